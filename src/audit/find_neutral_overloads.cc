// Neutrals against what their conductors may carry, length by length.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/audit/findings.h"
#include "src/audit/neutral_lengths.h"
#include "src/audit/usual_breaker.h"

namespace evenleg {
namespace {

// A neutral, or one length of it, beside its ampacity. Amperes.
struct Loaded {
  std::string name;  // `the shared neutral of "Bedrooms"`
  std::string subject;
  double found = 0;
  double most = 0;      // in any credible state where that is known, else as found
  std::string carried;  // "15.2 A as found and up to 28.9 A"
  double ampacity = 0;
  std::string source;
  double rms = 0;  // as found with its harmonics, which heat it as much; 0 where it has none

  [[nodiscard]] bool beyond() const { return std::max(found, most) > ampacity; }
  [[nodiscard]] bool beyond_by_rms() const { return rms > ampacity; }
  [[nodiscard]] bool now() const { return std::max(found, rms) > ampacity; }
  [[nodiscard]] double ratio() const { return std::max({found, most, rms}) / ampacity; }
};

std::string overload_text(const Loaded& neutral) {
  std::string name = neutral.name;
  name.front() = 'T';
  const std::string rms =
      neutral.beyond_by_rms()
          ? fmt::format("as found, all orders together, {} A against {} A", figure(neutral.rms),
                        figure(neutral.ampacity))
          : "";
  if (!neutral.beyond()) {
    return fmt::format("{} carries, with every neutral sound and {}, its ampacity.", name, rms);
  }
  return fmt::format("{} carries {} with every neutral sound; its ampacity is {} A.{}", name,
                     neutral.carried, figure(neutral.ampacity),
                     rms.empty() ? "" : " With its harmonics it carries, " + rms + ".");
}

void add_overload(const Seen& seen, const Loaded& neutral, std::vector<WiringFinding>& findings) {
  const bool rises = neutral.most > neutral.found || neutral.beyond_by_rms();
  add_finding(
      seen, findings, "neutral beyond its ampacity",
      neutral.now() ? FindingSeverity::Danger : FindingSeverity::Caution, neutral.subject,
      {overload_text(neutral),
       fmt::format("That is {}{} % of its ampacity, and no breaker watches a neutral: it can "
                   "overheat.",
                   rises ? "up to " : "", figure(kPercent * neutral.ratio())),
       fmt::format("Have a licensed electrician look at its size and at how its circuits are "
                   "paired{}.",
                   neutral.beyond_by_rms() ? ", and measure it with a meter that reads true rms"
                                           : "")},
      neutral.source);
}

Loaded loaded(const Seen& seen, const NeutralRow& row) {
  Loaded neutral{neutral_at(row.kind, row.place),
                 row.place,
                 row.amps.si(),
                 row.amps.si(),
                 neutral_amps_text(row),
                 row.rated_amps->si(),
                 row.rated_source,
                 0};
  if (row.highest) neutral.most = row.highest->value.si();
  if (seen.harmonics) {
    const auto n = static_cast<std::size_t>(&row - seen.neutrals.data());
    neutral.rms = seen.harmonics->neutrals[n].rms.si();
  }
  return neutral;
}

// A breaker too large for a conductor that is the neutral's too is found as such.
bool is_told_by_breaker(const Seen& seen, const NeutralLength& length) {
  return length.as_the_hots &&
         std::any_of(length.circuits.begin(), length.circuits.end(), [&](int c) {
           return is_beyond_conductor(seen, seen.house.circuits[at(c)].breaker_a, *length.run,
                                      false);
         });
}

bool is_told_by_breaker(const Seen& seen, const NeutralRow& row) {
  if (row.kind == PlaceKind::Service) {
    return seen.house.service && neutral_is_as_the_hots(seen.house.service->run) &&
           is_beyond_conductor(seen, seen.house.service->breaker_a, seen.house.service->run, true);
  }
  return std::any_of(seen.house.panels.begin(), seen.house.panels.end(), [&](const Panel& panel) {
    return panel.name == row.place && neutral_is_as_the_hots(panel.run) &&
           is_beyond_conductor(seen, panel.breaker_a, panel.run, false);
  });
}

void check_panel(const Seen& seen, const NeutralRow& row, std::vector<WiringFinding>& findings) {
  if (!row.rated_amps || is_told_by_breaker(seen, row)) return;
  const Loaded neutral = loaded(seen, row);
  if (neutral.ratio() > 1) add_overload(seen, neutral, findings);
}

bool on_one_leg(const Cable& cable) {
  std::set<int> legs;
  for (const Hot& hot : cable.hots) legs.insert(hot.leg);
  return legs.size() < cable.hots.size();
}

// A circuit's own length beyond the shared run, where none is described, is no conductor.
bool is_a_conductor(const Cable& cable, const NeutralLength& length) {
  const Box& box = cable.boxes[at(length.box)];
  return box.hots.size() > 1 || box.outlet >= 0 || length.run->length_ft || length.run->length_m;
}

// One finding for each multiwire: the length furthest beyond its ampacity, one that is so as found
// before one that can be. True where the neutral has a finding, here or with its breakers.
bool check_multiwire(const Seen& seen, int c, std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  if (on_one_leg(cable)) return true;  // has a finding of its own, ampacity included
  const std::string& subject = seen.house.multiwires[at(cable.multiwire)].name;
  const NeutralRow* row = neutral_row(seen, PlaceKind::SharedRun, subject);
  std::optional<Loaded> worst;
  bool told = false;
  for (const NeutralLength& length : neutral_lengths(seen, c)) {
    if (!length.ampacity || !is_a_conductor(cable, length)) continue;
    Loaded here{length.name,
                subject,
                length.amps,
                length.amps,
                figure(length.amps) + " A as found",
                *length.ampacity,
                short_form(length.conductor->ampacity_source),
                0};
    constexpr int kSharedRun = 1;
    if (length.box == kSharedRun && row != nullptr && row->rated_amps) here = loaded(seen, *row);
    if (here.ratio() <= 1) continue;
    if (is_told_by_breaker(seen, length)) {
      told = true;
      continue;
    }
    const auto rank = [](const Loaded& one) { return std::pair{one.now(), one.ratio()}; };
    if (!worst || rank(here) > rank(*worst)) worst = std::move(here);
  }
  if (worst) add_overload(seen, *worst, findings);
  return told || worst;
}

// The largest single-pole breaker of these circuits, or nullptr.
const Circuit* largest_breaker(const Seen& seen, const std::vector<int>& circuits) {
  const Circuit* largest = nullptr;
  for (int c : circuits) {
    const Circuit& circuit = seen.house.circuits[at(c)];
    if (!circuit.breaker_a || circuit.poles > 1) continue;
    if (largest == nullptr || *circuit.breaker_a > *largest->breaker_a) largest = &circuit;
  }
  return largest;
}

// The neutral of a circuit or a multiwire smaller than a breaker that it returns the current of, at
// its smallest length. Not for two-pole circuits, whose neutral may be smaller by the load. A
// breaker that is too large for the hots' conductor too is found as such.
void check_size(const Seen& seen, int c, std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  const bool shared = cable.multiwire >= 0;
  if (!shared && cable.hots.size() > 1) return;
  std::optional<NeutralLength> smallest;
  const Circuit* breaker = nullptr;
  for (const NeutralLength& length : neutral_lengths(seen, c)) {
    if (length.as_the_hots || !length.ampacity) continue;
    const Circuit* here = largest_breaker(seen, length.circuits);
    if (here == nullptr || *here->breaker_a <= *length.ampacity) continue;
    if (smallest && *smallest->ampacity <= *length.ampacity) continue;
    smallest = length;
    breaker = here;
  }
  if (!smallest) return;
  const std::string& subject =
      shared ? seen.house.multiwires[at(cable.multiwire)].name : breaker->name;
  std::string name = smallest->name;
  name.front() = 'T';
  add_finding(
      seen, findings, "neutral smaller than its breaker", FindingSeverity::Caution, subject,
      {fmt::format("{} is {} with an ampacity of {} A, behind a {} A breaker.", name,
                   smallest->conductor->name, figure(*smallest->ampacity),
                   figure(*breaker->breaker_a)),
       fmt::format("Alone on, {} can put up to {} A into it without its breaker opening, {} % of "
                   "its ampacity.",
                   in_quotes(breaker->name), figure(*breaker->breaker_a),
                   figure(kPercent * *breaker->breaker_a / *smallest->ampacity)),
       "Have a licensed electrician look at the size of this neutral."});
}

}  // namespace

void find_neutral_overloads(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (const NeutralRow& row : seen.neutrals) {
    const bool of_a_panel = row.kind == PlaceKind::Service || row.kind == PlaceKind::Feeder;
    if (of_a_panel) check_panel(seen, row, findings);
  }
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const int cable = static_cast<int>(c);
    const bool told =
        seen.wiring.cables[c].multiwire >= 0 && check_multiwire(seen, cable, findings);
    if (!told) check_size(seen, cable, findings);
  }
}

}  // namespace evenleg
