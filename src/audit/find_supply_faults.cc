// The supply as found: volts of the legs, legs that do not cancel, balance where a code asks for
// it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

constexpr double kJapaneseLegVolts = 100;

bool is_japanese(const Seen& seen) {
  return seen.wiring.system.split_phase && seen.wiring.system.nominal_volts == kJapaneseLegVolts;
}

// " 2 loads are then past what they withstand: ..., ..."; "" where there is none.
std::string past_text(const Seen& seen, const std::vector<PastAsFound>& past) {
  constexpr std::size_t kMostNamed = 3;
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < past.size() && i < kMostNamed; ++i) {
    parts.push_back(fmt::format("{} has {} V and is taken to withstand {} V",
                                in_quotes(seen.house.loads[at(past[i].load)].name),
                                figure(past[i].volts), figure(past[i].withstands)));
  }
  if (past.size() > kMostNamed) parts.push_back(fmt::format("{} more", past.size() - kMostNamed));
  if (parts.empty()) return "";
  return fmt::format(" {} past what {} with every neutral sound: {}.",
                     past.size() == 1 ? "One load is" : fmt::format("{} loads are", past.size()),
                     past.size() == 1 ? "it withstands" : "they withstand", listed(parts));
}

FindingSeverity severity_of_legs(const BrokenLimits& broken, const std::vector<PastAsFound>& past) {
  if (!past.empty()) return FindingSeverity::Danger;
  return broken.widest ? FindingSeverity::Caution : FindingSeverity::Note;
}

// With the loads that these volts take past their limits: one cause, one finding.
void leg_volts(const Seen& seen, std::vector<WiringFinding>& findings) {
  const BrokenLimits broken = broken_at_service(seen);
  if (broken.limits.empty()) return;
  std::vector<PastAsFound> past = past_as_found(seen);
  std::erase_if(past, [](const PastAsFound& load) { return !load.by_the_legs; });
  add_finding(
      seen, findings, "leg volts beyond the limits", severity_of_legs(broken, past), "service",
      {fmt::format("As found, the legs at the first panel are {} to neutral.",
                   leg_volts_text(seen, seen.as_found.panels.front())),
       fmt::format("That is outside {}. The limits hold at the point of supply, before the "
                   "service conductors; every load of the house is on these volts.{}",
                   limits_text(broken), past_text(seen, past)),
       std::string("Have the volts read at the main lugs, unloaded and loaded, and reported to the "
                   "utility where they agree; the limits in force are those of the place.") +
           (past.empty() ? "" : " Unplug what is past its limit until then.")});
}

std::string amps_of_hots(const Seen& seen, int cable) {
  std::vector<std::string> parts;
  const std::vector<Hot>& hots = seen.wiring.cables[at(cable)].hots;
  for (std::size_t hot = 0; hot < hots.size(); ++hot) {
    parts.push_back(figure(std::abs(neutral_amps_of(seen, cable, static_cast<int>(hot)))));
  }
  return listed(parts);
}

// "10.0 and 12.0": what the loads from each leg to neutral take as found, added as phasors.
std::string to_neutral_by_leg(const Seen& seen) {
  std::vector<Complex> amps(seen.wiring.system.legs.size());
  for (std::size_t l = 0; l < seen.model.loads.size(); ++l) {
    const LoadModel& load = seen.model.loads[l];
    if (load.to != kNeutral) continue;
    amps[at(seen.wiring.cables[at(load.cable)].hots[at(load.from)].leg)] +=
        seen.as_found.load_amps[l];
  }
  std::vector<std::string> parts;
  for (const Complex& leg : amps) parts.push_back(figure(std::abs(leg)));
  return listed(parts);
}

// Multiwires with hots on two legs of a wye, and the service where it has two legs only. One
// finding for the house: there is one supply.
void wye_legs(const Seen& seen, std::vector<WiringFinding>& findings) {
  const SupplySystem& system = seen.wiring.system;
  if (system.split_phase) return;
  std::vector<std::string> names;
  std::string implication;
  constexpr std::size_t kTwo = 2;
  if (system.legs.size() == kTwo) {
    names.push_back("the service");
    const NeutralRow* row = neutral_row(seen, PlaceKind::Service, "service");
    if (row != nullptr) {
      implication += fmt::format(
          " The service neutral carries {}; the loads from each leg to neutral take {} A.",
          neutral_amps_text(*row), to_neutral_by_leg(seen));
    }
  }
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const Cable& cable = seen.wiring.cables[c];
    std::set<int> legs;
    for (const Hot& hot : cable.hots) legs.insert(hot.leg);
    if (cable.multiwire < 0 || legs.size() != kTwo) continue;
    const std::string& name = seen.house.multiwires[at(cable.multiwire)].name;
    names.push_back(in_quotes(name));
    const NeutralRow* row = neutral_row(seen, PlaceKind::SharedRun, name);
    if (row == nullptr) continue;
    implication += fmt::format(" The shared neutral of {} carries {} beside {} A from its hots.",
                               in_quotes(name), neutral_amps_text(*row),
                               amps_of_hots(seen, static_cast<int>(c)));
  }
  if (names.empty()) return;
  add_finding(
      seen, findings, "legs of a wye do not cancel", FindingSeverity::Note, "supply",
      {fmt::format("The legs of this supply stand 120 degrees apart, and {} {} two of them with "
                   "one neutral.",
                   listed(names), names.size() == 1 ? "uses" : "use"),
       "Two legs loaded alike put as much into the neutral as one of them carries, so that it "
       "counts as a current-carrying conductor and is not to be reduced." +
           implication,
       "Where conductors are sized or circuits moved, have a licensed electrician count this "
       "neutral with the hots."});
}

// |VA(1) - VA(2)| over half of all VA, nameplates of everything connected.
void unbalance(const Seen& seen, std::vector<WiringFinding>& findings) {
  if (!is_japanese(seen)) return;
  constexpr double kMost = 40;  // percent
  double leg[2] = {0, 0};
  double all = 0;
  for (std::size_t l = 0; l < seen.model.loads.size(); ++l) {
    const LoadModel& load = seen.model.loads[l];
    all += load.nominal_volt_amps;
    if (load.to != kNeutral) continue;
    leg[at(seen.wiring.cables[at(load.cable)].hots[at(load.from)].leg)] += load.nominal_volt_amps;
  }
  if (all <= 0) return;
  const double percent = kPercent * std::abs(leg[0] - leg[1]) / (all / 2);
  if (percent <= kMost) return;
  add_finding(
      seen, findings, "legs unbalanced", FindingSeverity::Note, "supply",
      {fmt::format("The loads connected from {} and {} to neutral add up to {} and {} VA of {} VA "
                   "in all.",
                   seen.wiring.system.legs[0].name, seen.wiring.system.legs[1].name, figure(leg[0]),
                   figure(leg[1]), figure(all)),
       fmt::format("The difference over half of the total is {} %, where up to {} % may be "
                   "accepted. Balance lowers what the neutral carries; it does not lower what a "
                   "single small load could see with the neutral open.",
                   figure(percent), figure(kMost)),
       "Have a licensed electrician consider moving circuits from one leg to the other."});
}

void no_neutral_loss_device(const Seen& seen, std::vector<WiringFinding>& findings) {
  if (!is_japanese(seen)) return;
  std::vector<std::string> names;
  std::set<int> panels;
  for (std::size_t p = 0; p < seen.house.panels.size(); ++p) {
    if (seen.house.panels[p].neutral_loss_trip_volts) continue;
    names.push_back(in_quotes(seen.house.panels[p].name));
    panels.insert(static_cast<int>(p));
  }
  if (names.empty()) return;
  const std::string who = if_opened(
      seen, [&](const Place& place) { return !in_cable(place) && panels.count(place.panel) > 0; });
  add_finding(
      seen, findings, "no neutral-loss device", FindingSeverity::Note, "supply",
      {fmt::format("No device that opens on a lost neutral is recorded for {}.", listed(names)),
       "Such a device opens above 120 V and at 135 V at most, within a second; older panels lack "
       "it." +
           (who.empty() ? std::string()
                        : " With the neutral of one open and no device, " + who + "."),
       "Check whether there is one, with its sense lead at the load end of the bus; where there "
       "is none, have a licensed electrician advise."});
}

}  // namespace

void find_supply_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  leg_volts(seen, findings);
  wye_legs(seen, findings);
  unbalance(seen, findings);
  no_neutral_loss_device(seen, findings);
}

}  // namespace evenleg
