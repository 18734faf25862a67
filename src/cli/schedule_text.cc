#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/text_table.h"
#include "src/cli/panel_face.h"
#include "src/cli/schedule.h"

namespace evenleg {
namespace {

std::string heading(const House& house, const Wiring& wiring) {
  std::vector<std::string> legs;
  for (const Leg& leg : wiring.system.legs) legs.push_back(leg.name);
  std::string text = fmt::format("{}\nSupply: {}, legs {}", shortened(name_of(house), kPageColumns),
                                 house.supply.system, listed(legs));
  std::vector<std::string> volts;
  for (double value : house.supply.volts) volts.push_back(exact(value));
  if (!volts.empty()) text += fmt::format(", {} V to neutral", listed(volts));
  return text + "\n";
}

std::string disconnect_text(const Multiwire& multiwire) {
  if (!multiwire.common_disconnect) return "not known";
  return *multiwire.common_disconnect ? "common" : "separate";
}

// "Counter left L1, Counter right L2".
std::string circuits_with_legs(const Cable& cable, const House& house, const Wiring& wiring) {
  std::vector<std::string> circuits;
  for (int c : cable.circuits) {
    std::string text = house.circuits[at(c)].name;
    for (int leg : wiring.circuit_legs[at(c)]) text += " " + wiring.system.legs[at(leg)].name;
    circuits.push_back(std::move(text));
  }
  return fmt::format("{}", fmt::join(circuits, ", "));
}

std::string multiwires_text(const House& house, const Wiring& wiring) {
  TextTable table(
      {{"Mark"}, {"Multiwire"}, {"Circuits and legs"}, {"Disconnect"}, {"Neutral joint"}});
  std::string warnings;
  for (const Cable& cable : wiring.cables) {
    if (cable.multiwire < 0) continue;
    const Multiwire& multiwire = house.multiwires[at(cable.multiwire)];
    const bool same_leg = shared_legs(wiring, cable).same_leg;
    const std::string mark = multiwire_mark(wiring, cable.circuits.front());
    table.add({mark + (same_leg ? " (!)" : ""), multiwire.name,
               circuits_with_legs(cable, house, wiring), disconnect_text(multiwire),
               multiwire.neutral_joint});
    if (!same_leg) continue;
    warnings += fmt::format(
        "  (!) SAME LEG: two hots of {} are on one leg, so their currents add in the neutral.\n",
        mark);
  }
  return table.empty() ? "" : "\nMultiwires\n" + table.text() + warnings;
}

std::string scenarios_text(const House& house) {
  constexpr int kMargin = 2;
  std::string text;
  for (const Scenario& scenario : house.scenarios) {
    std::vector<std::string> loads = scenario.on;
    for (const auto& [load, share] : scenario.share) {
      loads.push_back(fmt::format("{} {}", load, exact(share)));
    }
    const std::string line =
        scenario.name + ": " +
        (loads.empty() ? "nothing runs" : fmt::format("{}", fmt::join(loads, ", ")));
    bool first = true;
    for (const std::string& part : wrapped(line, kPageColumns - 2 * kMargin)) {
      text += std::string(first ? kMargin : 2 * kMargin, ' ') +
              shortened(part, kPageColumns - 2 * kMargin) + "\n";
      first = false;
    }
  }
  return text.empty()
             ? ""
             : "\nScenarios: the loads that run, with their share where it is given\n" + text;
}

// Readings and findings with the numbers by which `set` and `remove` call them.
std::string notes_text(const House& house) {
  TextTable readings({{"Reading"}, {"At"}, {"Label"}, {"Time"}, {"Loads on"}});
  for (std::size_t r = 0; r < house.readings.size(); ++r) {
    const Reading& reading = house.readings[r];
    readings.add({fmt::format("#{}", r + 1), reading.at, reading.label.value_or(""),
                  reading.time.value_or(""), listed(reading.on)});
  }
  TextTable findings({{"Finding"}, {"Where"}, {"Urgency"}, {"Observation"}});
  for (std::size_t f = 0; f < house.findings.size(); ++f) {
    const SiteFinding& finding = house.findings[f];
    std::string observation = finding.observation;
    std::replace(observation.begin(), observation.end(), '\n', ' ');
    findings.add({fmt::format("#{}", f + 1), finding.where.value_or(""),
                  finding.urgency.value_or(""), observation});
  }
  return (readings.empty() ? "" : "\nReadings\n" + readings.text()) +
         (findings.empty() ? "" : "\nFindings on site\n" + findings.text());
}

}  // namespace

SharedLegs shared_legs(const Wiring& wiring, const Cable& cable) {
  SharedLegs shared;
  for (const Hot& hot : cable.hots) {
    const std::string& leg = wiring.system.legs[at(hot.leg)].name;
    shared.same_leg =
        shared.same_leg || std::count(shared.legs.begin(), shared.legs.end(), leg) > 0;
    shared.legs.push_back(leg);
  }
  return shared;
}

std::string schedule_text(const House& house, const Wiring& wiring) {
  std::string text = heading(house, wiring);
  for (std::size_t p = 0; p < house.panels.size(); ++p) {
    text += "\n" + text_of(face_of(house, wiring, static_cast<int>(p)), house, wiring);
  }
  return text + multiwires_text(house, wiring) + loads_text(house, wiring) + scenarios_text(house) +
         notes_text(house);
}

}  // namespace evenleg
