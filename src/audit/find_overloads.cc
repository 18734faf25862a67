// Breakers against what their conductors may carry, and loads against their breakers.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/audit/credible.h"
#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/audit/findings.h"
#include "src/audit/neutral_lengths.h"
#include "src/audit/usual_breaker.h"

namespace evenleg {
namespace {

constexpr std::string_view kOwnRules =
    " Motors, cooling equipment and some other loads have rules of their own.";

// Breakers on one conductor, told as one.
struct Guarded {
  std::string subject;
  std::string what;      // "The service has a 200 A breaker"
  double breaker_a = 0;  // the largest
  const Run* run = nullptr;
  bool whole_dwelling = false;
  double amps_found = 0;
};

// Requires: is_beyond_conductor() for this breaker and run.
void add_breaker(const Seen& seen, const Guarded& guarded, std::vector<WiringFinding>& findings) {
  const Conductor& conductor = *find_conductor(seen.tables, *guarded.run->conductor);
  const UsualBreaker most = *usual_breaker(seen, conductor, guarded.whole_dwelling);
  std::string implication =
      fmt::format("Between {} and {} A the conductor can overheat and the breaker does not open",
                  figure(most.amps), figure(guarded.breaker_a));
  if (guarded.amps_found > 0) {
    implication += fmt::format("; as found it carries {} A", figure(guarded.amps_found));
  }
  if (guarded.whole_dwelling && is_single_phase(seen) && conductor.ampacity) {
    implication += fmt::format(
        ". Its ampacity of {} A is {} % of the breaker's rating, where the whole supply "
        "of a dwelling asks for 83 %",
        figure(*conductor.ampacity), figure(kPercent * *conductor.ampacity / guarded.breaker_a));
  }
  add_finding(seen, findings, "breaker beyond the conductor", FindingSeverity::Danger,
              guarded.subject,
              {fmt::format("{} on {}, which is usually limited to {} A.", guarded.what,
                           conductor.name, figure(most.amps)),
               implication + ".",
               std::string(kElectrician) + (guarded.whole_dwelling ? "" : std::string(kOwnRules))},
              "here " + most.rule);
}

struct PoleAmps {
  double found = 0;      // loads that are on as found
  double always_on = 0;  // loads that cannot be off
};

// As breakers count it: nameplate volt-amperes over nominal volts (credible.h).
PoleAmps pole_amps(const Seen& seen, std::size_t cable, int hot) {
  PoleAmps sum;
  for (int l : seen.model.cables[cable].loads) {
    const LoadModel& load = seen.model.loads[at(l)];
    if (load.from != hot && load.to != hot) continue;
    if (seen.house.loads[at(l)].switching == "always on") sum.always_on += breaker_amps(load);
    if (seen.on[at(l)]) sum.found += breaker_amps(load);
  }
  return sum;
}

// The hots of a cable that belong to one circuit.
std::vector<int> hots_of(const Cable& cable, int circuit) {
  std::vector<int> hots;
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    if (cable.hots[hot].circuit == circuit) hots.push_back(static_cast<int>(hot));
  }
  return hots;
}

// One finding for each circuit: the pole with most, and the legs of all that carry as much.
void check_load(const Seen& seen, int circuit_index, std::vector<WiringFinding>& findings) {
  constexpr double kRounding = 1e-9;
  const Circuit& circuit = seen.house.circuits[at(circuit_index)];
  if (!circuit.breaker_a) return;
  const std::size_t c = at(seen.wiring.circuit_cable[at(circuit_index)]);
  const Cable& cable = seen.wiring.cables[c];
  const double most = *circuit.breaker_a * (1 + kRounding);
  const std::vector<int> hots = hots_of(cable, circuit_index);
  const bool always = std::any_of(
      hots.begin(), hots.end(), [&](int hot) { return pole_amps(seen, c, hot).always_on > most; });
  const auto amps_of = [&](int hot) {
    const PoleAmps amps = pole_amps(seen, c, hot);
    return always ? amps.always_on : amps.found;
  };
  double over = 0;
  for (int hot : hots) over = std::max(over, amps_of(hot));
  if (over <= most) return;
  std::vector<std::string> legs;
  for (int hot : hots) {
    if (amps_of(hot) < over * (1 - kRounding)) continue;
    legs.push_back(seen.wiring.system.legs[at(cable.hots[at(hot)].leg)].name);
  }
  add_finding(
      seen, findings, "load beyond the breaker", FindingSeverity::Caution, circuit.name,
      {fmt::format("{} carries {} A by nameplate on leg{} {}, beyond its {} A breaker{}.",
                   in_quotes(circuit.name), figure(over), legs.size() > 1 ? "s" : "", listed(legs),
                   figure(*circuit.breaker_a),
                   always ? ", with loads that are described as always on" : " as found"),
       fmt::format("At {} % of its rating a breaker that works would open in time; one that stays "
                   "closed leaves the conductor at that current. The worst cases leave such "
                   "states out.",
                   figure(kPercent * over / *circuit.breaker_a)),
       "Check the loads and the breaker as entered; where they are right, have a licensed "
       "electrician look at the breaker and spread the loads."});
}

double largest_amps(const std::vector<Complex>& amps) {
  double most = 0;
  for (const Complex& value : amps) most = std::max(most, std::abs(value));
  return most;
}

double circuit_amps(const Seen& seen, int circuit) {
  const int cable = seen.wiring.circuit_cable[at(circuit)];
  std::vector<Complex> amps;
  for (int hot : hots_of(seen.wiring.cables[at(cable)], circuit)) {
    amps.push_back(hot_amps_of(seen, cable, hot));
  }
  return largest_amps(amps);
}

void check_breakers_of_panels(const Seen& seen, std::vector<WiringFinding>& findings) {
  const House& house = seen.house;
  const auto check = [&](const std::string& subject, const std::string& what,
                         const std::optional<double>& breaker_a, const Run& run, bool whole,
                         const PanelState& state) {
    if (!is_beyond_conductor(seen, breaker_a, run, whole)) return;
    add_breaker(seen,
                {subject, fmt::format("{} has a {} A breaker", what, figure(*breaker_a)),
                 *breaker_a, &run, whole, largest_amps(state.hot_amps)},
                findings);
  };
  if (house.service) {
    check("service", "The service", house.service->breaker_a, house.service->run, true,
          seen.as_found.panels.front());
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    const Panel& panel = house.panels[p];
    check(panel.name, "The feeder of " + in_quotes(panel.name), panel.breaker_a, panel.run, false,
          seen.as_found.panels[p]);
  }
}

// `Circuit "den" has a 20 A breaker`, `Circuits "a" and "b" have 20 A breakers`.
std::string breakers_text(const Seen& seen, const std::vector<int>& circuits, double largest) {
  std::vector<std::string> names;
  bool alike = true;
  for (int c : circuits) {
    names.push_back(in_quotes(seen.house.circuits[at(c)].name));
    alike = alike && *seen.house.circuits[at(c)].breaker_a == largest;
  }
  if (names.size() == 1) {
    return fmt::format("Circuit {} has a {} A breaker", names.front(), figure(largest));
  }
  if (alike) return fmt::format("Circuits {} have {} A breakers", listed(names), figure(largest));
  return fmt::format("Circuits {} have breakers of up to {} A", listed(names), figure(largest));
}

// Each conductor of a cable once, thin ones far out too, with all breakers that are too large for
// it.
void check_breakers_of_cable(const Seen& seen, int c, std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::vector<std::pair<const Run*, std::vector<int>>> by_conductor;
  for (const NeutralLength& length : neutral_lengths(seen, c)) {
    if (!length.run->conductor) continue;
    auto known = std::find_if(by_conductor.begin(), by_conductor.end(), [&](const auto& entry) {
      return *entry.first->conductor == *length.run->conductor;
    });
    if (known == by_conductor.end()) known = by_conductor.insert(known, {length.run, {}});
    for (int circuit : length.circuits) {
      std::vector<int>& circuits = known->second;
      const bool there = std::find(circuits.begin(), circuits.end(), circuit) != circuits.end();
      if (!there && is_beyond_conductor(seen, seen.house.circuits[at(circuit)].breaker_a,
                                        *length.run, false)) {
        circuits.push_back(circuit);
      }
    }
  }
  for (const auto& [run, circuits] : by_conductor) {
    if (circuits.empty()) continue;
    Guarded guarded;
    for (int circuit : circuits) {
      guarded.breaker_a = std::max(guarded.breaker_a, *seen.house.circuits[at(circuit)].breaker_a);
      guarded.amps_found = std::max(guarded.amps_found, circuit_amps(seen, circuit));
    }
    guarded.subject = circuits.size() > 1 ? seen.house.multiwires[at(cable.multiwire)].name
                                          : seen.house.circuits[at(circuits.front())].name;
    guarded.what = breakers_text(seen, circuits, guarded.breaker_a);
    guarded.run = run;
    add_breaker(seen, guarded, findings);
  }
}

}  // namespace

void find_overloads(const Seen& seen, std::vector<WiringFinding>& findings) {
  find_neutral_overloads(seen, findings);
  for (std::size_t c = 0; c < seen.house.circuits.size(); ++c) {
    check_load(seen, static_cast<int>(c), findings);
  }
  check_breakers_of_panels(seen, findings);
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    check_breakers_of_cable(seen, static_cast<int>(c), findings);
  }
}

}  // namespace evenleg
