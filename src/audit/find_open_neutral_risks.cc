// What an open neutral meets in this house, whether or not anything is wrong there: notes, but for
// an earth return that would keep it from being seen.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

const OpenNeutral* open_service(const Seen& seen) {
  const auto found =
      std::find_if(seen.open_neutral.begin(), seen.open_neutral.end(),
                   [](const OpenNeutral& open) { return open.place.kind == PlaceKind::Service; });
  return found == seen.open_neutral.end() ? nullptr : &*found;
}

bool breaks_widest(const Seen& seen, const PanelState& first) {
  return std::any_of(first.hot.begin(), first.hot.end(), [&](const Complex& hot) {
    return broken_limits(seen, std::abs(hot - first.neutral), LimitsAt::Service).widest;
  });
}

// The service neutral open as found, with the earth return that is described and without it.
void earth_return(const Seen& seen, std::vector<WiringFinding>& findings) {
  const OpenNeutral* service = open_service(seen);
  if (service == nullptr || !seen.model.earth_return_ohms) return;
  const NeutralFault fault{service->place};
  const auto loads = admittances(seen.model, seen.on);
  const Solution with = solve(seen.model, loads, fault);
  Model bare = seen.model;
  bare.earth_return_ohms.reset();
  const Solution without = solve(bare, loads, fault);
  const PanelState& helped = with.panels.front();
  const PanelState& alone = without.panels.front();
  if (helped.isolated || alone.isolated) return;
  const bool hides = breaks_widest(seen, alone) && !breaks_widest(seen, helped);
  std::string implication = fmt::format(
      "With the service neutral open, as found, {} A would return through it, with {}; "
      "without it, {}.",
      figure(std::abs(with.earth_return_amps)), leg_volts_text(seen, helped),
      leg_volts_text(seen, alone));
  implication +=
      hides ? " Readings of that kind stay inside the limits, so that an open neutral could go "
              "unnoticed until the path is parted, which would then be live."
            : " It is no substitute for a neutral.";
  add_finding(
      seen, findings,
      hides ? "earth return may hide an open neutral" : "earth return is no neutral",
      hides ? FindingSeverity::Caution : FindingSeverity::Note, "service",
      {fmt::format("Beside the service neutral, an earth return of {} ohm is described.",
                   figure(*seen.model.earth_return_ohms)),
       std::move(implication),
       "Have a licensed electrician read the current in the electrode conductor and the water "
       "bond with the main on and off; neither is to be parted without a temporary jumper."});
}

std::size_t past_limits(const Seen& seen, const OpenNeutral& open) {
  return static_cast<std::size_t>(
      std::count_if(open.loads.begin(), open.loads.end(),
                    [&](const LoadExtremes& row) { return is_taken_past(seen, row); }));
}

bool all_proven(const OpenNeutral& open) {
  return std::all_of(open.loads.begin(), open.loads.end(),
                     [](const LoadExtremes& row) { return !row.highest || row.highest->proven; });
}

void feeders(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (const OpenNeutral& open : seen.open_neutral) {
    if (open.place.kind != PlaceKind::Feeder || past_limits(seen, open) == 0) continue;
    add_finding(
        seen, findings, "panel hangs on one feeder neutral", FindingSeverity::Note, open.place.name,
        {fmt::format("In {}, {} through its feeder neutral. Whether neutral and ground are kept "
                     "apart in that panel was not recorded.",
                     in_quotes(open.place.name),
                     counted(open.loads.size(), "load returns", "loads return")),
         fmt::format("If that neutral opened, {}. A bond in that panel would put its current on "
                     "the grounding conductor and metal parts.",
                     if_these_opened(seen, {&open})),
         "Have a licensed electrician check that neutral's joints, and that neutral and ground "
         "are apart in that panel."});
    findings.back().undetermined = true;
  }
}

bool is_proven(const Seen& seen, const RankRow& ranked) {
  const std::vector<LoadExtremes>& loads = seen.open_neutral[at(ranked.place)].loads;
  return std::any_of(loads.begin(), loads.end(), [&](const LoadExtremes& row) {
    return row.load == ranked.load && row.highest && row.highest->proven;
  });
}

void surge_protectors(const Seen& seen, std::vector<WiringFinding>& findings) {
  std::vector<std::string> names;
  const RankRow* worst = nullptr;
  for (const RankRow& row : seen.ranking) {
    const Load& load = seen.house.loads[at(row.load)];
    const LoadKind* kind = find_kind(seen.tables, load.kind);
    if (kind == nullptr || kind->behaviour != Behaviour::SurgeProtector || row.over <= 1) continue;
    names.push_back(in_quotes(load.name));
    if (worst == nullptr) worst = &row;
  }
  if (worst == nullptr) return;
  const Place& place = seen.open_neutral[at(worst->place)].place;
  add_finding(
      seen, findings, "surge protector beyond an open neutral", FindingSeverity::Note,
      seen.house.loads[at(worst->load)].name,
      {fmt::format("{} {} beyond a neutral whose opening takes {} past what varistors withstand.",
                   listed(names), names.size() == 1 ? "sits" : "sit",
                   names.size() == 1 ? "it" : "them"),
       fmt::format("{} could see {} V{} with {} open, where it withstands {} V without end; above "
                   "that its varistors conduct all the time and heat. A surge protector guards "
                   "against spikes, and not against this.",
                   in_quotes(seen.house.loads[at(worst->load)].name), figure(worst->volts.si()),
                   is_proven(seen, *worst) ? "" : " or more", neutral_at(place),
                   figure(worst->withstands.si())),
       "Unplug it when some lights brighten while others dim; replace one that is old or shows "
       "marks of heat."});
}

// The place whose opening takes most loads past their limits; the first of several alike.
void worst_place(const Seen& seen, std::vector<WiringFinding>& findings) {
  const OpenNeutral* worst = nullptr;
  std::size_t most = 0;
  for (const OpenNeutral& open : seen.open_neutral) {
    const std::size_t past = past_limits(seen, open);
    if (past <= most) continue;
    most = past;
    worst = &open;
  }
  if (worst == nullptr) return;
  const std::string name = neutral_at(worst->place);
  add_finding(
      seen, findings, "worst open neutral", FindingSeverity::Note, worst->place.name,
      {fmt::format("Of all neutrals that more than one leg uses, {} reaches furthest: if it "
                   "opened, {}{} of {} loads could be past what they withstand.",
                   name, all_proven(*worst) ? "" : "at least ", most, seen.house.loads.size()),
       fmt::format("With it open, {}.", if_these_opened(seen, {worst})),
       "Have its joints looked at first when a licensed electrician works in this house."});
}

}  // namespace

void find_open_neutral_risks(const Seen& seen, std::vector<WiringFinding>& findings) {
  earth_return(seen, findings);
  feeders(seen, findings);
  surge_protectors(seen, findings);
  worst_place(seen, findings);
}

}  // namespace evenleg
