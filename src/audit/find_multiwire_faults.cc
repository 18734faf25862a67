// Multiwire branch circuits: legs, panels, disconnect, joints. NEC rule numbers as in the 2020 and
// 2023 editions, read second hand or as quoted unless a line says otherwise.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "evenleg/base/format.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::string circuits_text(const Seen& seen, const Cable& cable) {
  std::vector<std::string> names;
  for (int c : cable.circuits) names.push_back("\"" + seen.house.circuits[at(c)].name + "\"");
  return listed(names);
}

std::string neutral_text(const Seen& seen, const std::string& place) {
  for (const NeutralRow& row : seen.neutrals) {
    if (row.place != place || row.kind != PlaceKind::SharedRun) continue;
    std::string text =
        fmt::format("its neutral carries {} A as found", figure(row.amps.si()));
    if (row.highest) {
      text += fmt::format(" and up to {} A", figure(row.highest->value.si()));
    }
    if (row.rated_amps) {
      text += fmt::format("; the conductor's ampacity is {} A", figure(row.rated_amps->si()));
    }
    return text;
  }
  return "";
}

void same_leg(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
              std::vector<WiringFinding>& findings) {
  std::set<int> legs;
  std::set<int> shared;
  for (const Hot& hot : cable.hots) {
    if (!legs.insert(hot.leg).second) shared.insert(hot.leg);
  }
  if (shared.empty()) return;
  const std::string leg = seen.wiring.system.legs[at(*shared.begin())].name;
  findings.push_back(
      {"same-leg multiwire", FindingSeverity::Danger, multiwire.name,
       fmt::format("{} share one neutral and sit on leg {}: their neutral currents add instead of "
                   "opposing, so {}. No breaker watches a neutral; it can overheat. A licensed "
                   "electrician should look at this promptly.",
                   circuits_text(seen, cable), leg, neutral_text(seen, multiwire.name)),
       "NEC article 100 (multiwire branch circuit: a voltage between its ungrounded conductors; from "
       "memory); arithmetic for the amperes"});
}

void two_panels(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
                std::vector<WiringFinding>& findings) {
  std::set<int> panels;
  for (const Hot& hot : cable.hots) panels.insert(hot.panel);
  if (panels.size() < 2) return;
  std::vector<std::string> names;
  for (int p : panels) names.push_back("\"" + seen.house.panels[at(p)].name + "\"");
  findings.push_back(
      {"multiwire from two panels", FindingSeverity::Danger, multiwire.name,
       fmt::format("{} share one neutral but come from {}. Current of one panel returns through the "
                   "other, and turning one panel off leaves the neutral carrying current. The neutral "
                   "is taken to land in \"{}\". A licensed electrician should look at this promptly.",
                   circuits_text(seen, cable), listed(names),
                   seen.house.panels[at(cable.neutral_panel)].name),
       "NEC 210.4(A): all conductors from the same panelboard (2023, second hand)"});
}

void disconnect(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
                std::vector<WiringFinding>& findings) {
  if (multiwire.common_disconnect.value_or(false)) return;
  const bool known = multiwire.common_disconnect.has_value();
  findings.push_back(
      {"no common disconnect", known ? FindingSeverity::Caution : FindingSeverity::Note,
       multiwire.name,
       fmt::format("{} share a neutral and {}. With one breaker off the shared neutral can still carry "
                   "the other circuit's current and become live when it is opened. Older work may have "
                   "been allowed without; the installation date and the local code decide.",
                   circuits_text(seen, cable),
                   known ? "do not disconnect together"
                         : "whether they disconnect together was not recorded"),
       "NEC 210.4(B); before 2008 asked for only where both circuits fed one yoke"});
}

void joints(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
            std::vector<WiringFinding>& findings) {
  if (multiwire.neutral_joint == "spliced") return;
  const bool known = multiwire.neutral_joint == "through devices";
  findings.push_back(
      {"neutral through devices", known ? FindingSeverity::Caution : FindingSeverity::Note,
       multiwire.name,
       known ? fmt::format("The shared neutral of {} passes through devices: taking one out opens it "
                           "for everything beyond. What each outlet would then see is under the open "
                           "neutrals.",
                           circuits_text(seen, cable))
             : fmt::format("How the shared neutral of {} is joined at its boxes was not recorded. If it "
                           "passes through devices, taking one out opens it for everything beyond.",
                           circuits_text(seen, cable)),
       "NEC 300.13(B)"});
}

// A two-pole circuit with loads from both legs to neutral shares a neutral without being described as
// a multiwire, so it is no fault place.
void hidden_multiwire(const Seen& seen, const Cable& cable,
                      std::vector<WiringFinding>& findings) {
  std::set<int> legs;
  for (std::size_t l = 0; l < seen.wiring.loads.size(); ++l) {
    const WiredLoad& load = seen.wiring.loads[l];
    if (&seen.wiring.cables[at(load.cable)] != &cable || load.to != kNeutral) continue;
    legs.insert(cable.hots[at(load.from)].leg);
  }
  if (legs.size() < 2) return;
  const std::string& name = seen.house.circuits[at(cable.circuits.front())].name;
  findings.push_back(
      {"two-pole circuit shares a neutral", FindingSeverity::Note, name,
       fmt::format("\"{}\" feeds loads from both of its legs to one neutral. Described as a multiwire, "
                   "its neutral would be one of the places that the audit opens.",
                   name),
       ""});
}

}  // namespace

void find_multiwire_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (const Cable& cable : seen.wiring.cables) {
    if (cable.multiwire < 0) {
      hidden_multiwire(seen, cable, findings);
      continue;
    }
    const Multiwire& multiwire = seen.house.multiwires[at(cable.multiwire)];
    same_leg(seen, cable, multiwire, findings);
    two_panels(seen, cable, multiwire, findings);
    disconnect(seen, cable, multiwire, findings);
    joints(seen, cable, multiwire, findings);
  }
}

}  // namespace evenleg
