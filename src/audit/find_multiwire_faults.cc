// Multiwire branch circuits and what amounts to one: legs, panels, joints of the neutral.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "src/audit/findings.h"
#include "src/audit/neutral_lengths.h"

namespace evenleg {
namespace {

// The least along the lengths that several hots share.
std::string ampacity_text(const Seen& seen, int c) {
  std::set<double> amps;
  for (const NeutralLength& length : neutral_lengths(seen, c)) {
    const bool shared = seen.wiring.cables[at(c)].boxes[at(length.box)].hots.size() > 1;
    if (shared && length.ampacity) amps.insert(*length.ampacity);
  }
  if (amps.empty()) return "";
  return fmt::format("; {} is {} A",
                     amps.size() > 1 ? "the least ampacity along it" : "the conductor's ampacity",
                     figure(*amps.begin()));
}

// The circuits of the cable with a hot on that leg.
std::string circuits_on(const Seen& seen, const Cable& cable, int leg) {
  std::vector<std::string> names;
  for (const Hot& hot : cable.hots) {
    if (hot.leg == leg) names.push_back(in_quotes(seen.house.circuits[at(hot.circuit)].name));
  }
  return listed(names);
}

void same_leg(const Seen& seen, int c, const Multiwire& multiwire,
              std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::set<int> legs;
  std::set<int> shared;
  for (const Hot& hot : cable.hots) {
    if (!legs.insert(hot.leg).second) shared.insert(hot.leg);
  }
  if (shared.empty()) return;
  std::vector<std::string> parts;
  for (int leg : shared) {
    parts.push_back(fmt::format("{} sit on leg {}", circuits_on(seen, cable, leg),
                                seen.wiring.system.legs[at(leg)].name));
  }
  std::string implication = "Their neutral currents add instead of opposing";
  if (const NeutralRow* row = neutral_row(seen, PlaceKind::SharedRun, multiwire.name)) {
    implication += fmt::format(": the shared neutral carries {}{}", neutral_amps_text(*row),
                               ampacity_text(seen, c));
  }
  implication += ". No breaker watches a neutral; it can overheat.";
  if (legs.size() == 1) {
    implication +=
        " If it opened, the loads beyond would go dead, with the neutral beyond the break "
        "at leg voltage, and not see more than their own volts.";
  }
  add_finding(
      seen, findings, "same-leg multiwire", FindingSeverity::Danger, multiwire.name,
      {fmt::format("On the shared neutral of {}, {}.", in_quotes(multiwire.name), listed(parts)),
       std::move(implication),
       std::string(kElectrician) +
           " A reading of 0 V between the two hots is consistent with one leg; the pair "
           "belongs on legs that oppose each other, under one disconnect."});
}

void two_panels(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
                std::vector<WiringFinding>& findings) {
  std::set<int> panels;
  for (const Hot& hot : cable.hots) panels.insert(hot.panel);
  if (panels.size() < 2) return;
  std::vector<std::string> names;
  for (int p : panels) names.push_back(in_quotes(seen.house.panels[at(p)].name));
  std::string implication = fmt::format(
      "Current of one panel returns through the other ({} is taken to hold the neutral), "
      "and turning one panel off leaves the neutral carrying current",
      in_quotes(seen.house.panels[at(cable.neutral_panel)].name));
  if (const NeutralRow* row = neutral_row(seen, PlaceKind::SharedRun, multiwire.name)) {
    implication += ": " + neutral_amps_text(*row);
  }
  add_finding(
      seen, findings, "multiwire from two panels", FindingSeverity::Danger, multiwire.name,
      {fmt::format("{} share one neutral but come from {}.", quoted_circuits(seen, cable),
                   listed(names)),
       implication + ".",
       std::string(kElectrician) + " All conductors of a multiwire circuit belong in one panel."});
}

void joints(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
            std::vector<WiringFinding>& findings) {
  if (multiwire.neutral_joint == "spliced") return;
  const bool known = multiwire.neutral_joint == "through devices";
  const std::string who = if_opened(seen, [&](const Place& place) {
    return in_cable(place) && &seen.wiring.cables[at(place.cable)] == &cable;
  });
  std::string implication = known ? "Taking a device out opens the neutral for everything beyond it"
                                  : "If it passes through devices, taking one out opens it for "
                                    "everything beyond";
  implication += who.empty() ? ", which would go dead with the neutral beyond at leg voltage."
                             : ": " + who + ".";
  add_finding(
      seen, findings, "neutral through devices",
      known ? FindingSeverity::Caution : FindingSeverity::Note, multiwire.name,
      {known ? fmt::format("The shared neutral of {} passes through the terminals of devices.",
                           quoted_circuits(seen, cable))
             : fmt::format("How the shared neutral of {} is joined at its boxes was not recorded.",
                           quoted_circuits(seen, cable)),
       std::move(implication),
       known
           ? "Have a licensed electrician join the neutral so that it depends on no device, before "
             "any device on it is changed."
           : "Have a licensed electrician look, box by box, before any device on it is changed."});
  findings.back().undetermined = !known;
}

// The volts across the loads of a cable if its neutral opened at the panel, with those loads of it
// on that can be and the rest of the house as found.
std::string if_borrowed_opened(const Seen& seen, int c) {
  const CableModel& cable = seen.model.cables[at(c)];
  std::vector<bool> on = seen.on;
  for (int l : cable.loads) {
    if (seen.house.loads[at(l)].switching != "always off") on[at(l)] = true;
  }
  const NeutralFault fault{{"", PlaceKind::SharedRun, 0, c, 1}};
  const Solution opened = solve(seen.model, admittances(seen.model, on), fault);
  int worst = -1;
  for (int l : cable.loads) {
    if (seen.model.loads[at(l)].to != kNeutral || !on[at(l)]) continue;
    if (worst < 0 || std::abs(opened.load_volts[at(l)]) > std::abs(opened.load_volts[at(worst)])) {
      worst = l;
    }
  }
  if (worst < 0) return "";
  return fmt::format(
      " If it opened at the panel with the loads of this circuit on, {} would see {} V.",
      in_quotes(seen.house.loads[at(worst)].name), figure(std::abs(opened.load_volts[at(worst)])));
}

// A multi-pole circuit with loads from several legs to neutral shares a neutral without being
// described as a multiwire, so it is no fault place.
void hidden_multiwire(const Seen& seen, int c, std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::set<int> legs;
  for (int l : seen.model.cables[at(c)].loads) {
    const WiredLoad& load = seen.wiring.loads[at(l)];
    if (load.to == kNeutral) legs.insert(cable.hots[at(load.from)].leg);
  }
  if (legs.size() < 2) return;
  const std::string& name = seen.house.circuits[at(cable.circuits.front())].name;
  Complex carried{};
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    carried += neutral_amps_of(seen, c, static_cast<int>(hot));
  }
  add_finding(
      seen, findings, "multi-pole circuit shares a neutral", FindingSeverity::Note, name,
      {fmt::format("{} feeds loads from more than one of its legs to one neutral.",
                   in_quotes(name)),
       fmt::format("It is a multiwire circuit in all but name; its neutral carries {} A as "
                   "found.{}",
                   figure(std::abs(carried)), if_borrowed_opened(seen, c)),
       "Describe it as a multiwire, so that its neutral becomes one of those that the audit "
       "opens; have a licensed electrician look at how that neutral is joined."});
}

}  // namespace

void find_multiwire_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const Cable& cable = seen.wiring.cables[c];
    if (cable.multiwire < 0) {
      hidden_multiwire(seen, static_cast<int>(c), findings);
      continue;
    }
    const Multiwire& multiwire = seen.house.multiwires[at(cable.multiwire)];
    same_leg(seen, static_cast<int>(c), multiwire, findings);
    two_panels(seen, cable, multiwire, findings);
    joints(seen, cable, multiwire, findings);
  }
}

}  // namespace evenleg
