// Neutrals and breakers against what their conductors may carry.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "evenleg/audit/credible.h"
#include "evenleg/base/format.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

// Standard ratings of overcurrent devices up to 500 A, NEC 240.6(A), from memory.
constexpr std::array<double, 25> kStandardRatings = {15,  20,  25,  30,  35,  40,  45,  50,  60,
                                                     70,  80,  90,  100, 110, 125, 150, 175, 200,
                                                     225, 250, 300, 350, 400, 450, 500};

// The next standard rating up from an ampacity that is none itself, NEC 240.4(B), from memory.
double next_standard(double ampacity) {
  const auto* next = std::lower_bound(kStandardRatings.begin(), kStandardRatings.end(), ampacity);
  return next == kStandardRatings.end() ? ampacity : *next;
}

constexpr double kPercent = 100;
constexpr std::string_view kOwnRules =
    " Motors, cooling equipment and some other loads have rules of their own.";

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool is_metric(const Conductor& conductor) {
  return conductor.name.find("mm2") != std::string::npos;
}

// The largest breaker that a conductor is usually given, and by what rule.
std::optional<std::pair<double, std::string>> usual_breaker(const Conductor& conductor,
                                                            bool whole_dwelling) {
  if (whole_dwelling && conductor.dwelling_service_limit) {
    return std::pair{*conductor.dwelling_service_limit, std::string("NEC table 310.12")};
  }
  if (conductor.small_conductor_limit) {
    return std::pair{*conductor.small_conductor_limit, std::string("NEC 240.4(D)")};
  }
  if (!conductor.ampacity) return std::nullopt;
  if (is_metric(conductor))
    return std::pair{*conductor.ampacity, short_form(conductor.ampacity_source)};
  return std::pair{next_standard(*conductor.ampacity),
                   std::string("NEC table 310.16, 75 °C, next standard rating (240.4(B))")};
}

void check_breaker(const Seen& seen, const std::string& subject, const std::string& what,
                   const std::optional<double>& breaker, const Run& run, bool whole_dwelling,
                   double amps_found, std::vector<WiringFinding>& findings) {
  if (!breaker || !run.conductor) return;
  const Conductor* conductor = find_conductor(seen.tables, *run.conductor);
  if (conductor == nullptr) return;
  const auto most = usual_breaker(*conductor, whole_dwelling);
  if (!most || *breaker <= most->first) return;
  std::string implication =
      fmt::format("Between {} and {} A the conductor can overheat and the breaker does not open",
                  figure(most->first), figure(*breaker));
  if (amps_found > 0) implication += fmt::format("; as found it carries {} A", figure(amps_found));
  if (whole_dwelling && conductor->ampacity) {
    implication += fmt::format(
        ". Its ampacity of {} A is {} % of the breaker's rating, where the whole "
        "supply of a dwelling asks for 83 %",
        figure(*conductor->ampacity), figure(kPercent * *conductor->ampacity / *breaker));
  }
  add_finding(seen, findings, "breaker beyond the conductor", FindingSeverity::Danger, subject,
              {fmt::format("{} has a {} A breaker on {}, which is usually limited to {} A.", what,
                           figure(*breaker), conductor->name, figure(most->first)),
               implication + ".",
               std::string(kElectrician) + (whole_dwelling ? "" : std::string(kOwnRules))},
              "here " + most->second);
}

bool on_one_leg(const Seen& seen, const NeutralRow& row) {
  for (const Cable& cable : seen.wiring.cables) {
    if (cable.multiwire < 0 || seen.house.multiwires[at(cable.multiwire)].name != row.place)
      continue;
    std::set<int> legs;
    for (const Hot& hot : cable.hots) legs.insert(hot.leg);
    return legs.size() < cable.hots.size();
  }
  return false;
}

std::string neutral_of(const NeutralRow& row) {
  std::string name = neutral_name(row.kind, row.place);
  name.front() = 'T';
  return name;
}

// What a neutral carries beyond its ampacity: at the supply's frequency, found or in another state,
// or as found with its harmonics, which heat it as much and which no state is searched for.
struct NeutralOverload {
  bool fundamental = false;
  std::optional<Amps> rms;  // where that is beyond it
};

NeutralOverload overload(const Seen& seen, std::size_t n) {
  const NeutralRow& row = seen.neutrals[n];
  NeutralOverload over;
  if (!row.rated_amps) return over;
  over.fundamental = row.highest && row.highest->value > *row.rated_amps;
  if (seen.harmonics && seen.harmonics->neutrals[n].rms > *row.rated_amps) {
    over.rms = seen.harmonics->neutrals[n].rms;
  }
  return over;
}

std::string overload_text(const NeutralRow& row, const NeutralOverload& over) {
  const std::string rated = figure(row.rated_amps->si());
  const std::string rms = over.rms ? fmt::format("as found, all orders together, {} A against {} A",
                                                 figure(over.rms->si()), rated)
                                   : "";
  if (!over.fundamental) {
    return fmt::format("{} carries, with every neutral sound and {}, its ampacity.",
                       neutral_of(row), rms);
  }
  return fmt::format("{} carries {} with every neutral sound; its ampacity is {} A.{}",
                     neutral_of(row), neutral_amps_text(row), rated,
                     over.rms ? " With its harmonics it carries, " + rms + "." : "");
}

// A multiwire with two circuits on one leg has a finding of its own, ampacity included.
bool check_neutral(const Seen& seen, std::size_t n, std::vector<WiringFinding>& findings) {
  const NeutralRow& row = seen.neutrals[n];
  if (row.kind == PlaceKind::SharedRun && on_one_leg(seen, row)) return true;
  const NeutralOverload over = overload(seen, n);
  if (!over.fundamental && !over.rms) return false;
  const bool now = over.rms || row.amps > *row.rated_amps;
  Amps most = over.fundamental ? row.highest->value : *over.rms;
  if (over.rms && *over.rms > most) most = *over.rms;
  add_finding(
      seen, findings, "neutral beyond its ampacity",
      now ? FindingSeverity::Danger : FindingSeverity::Caution, row.place,
      {overload_text(row, over),
       fmt::format("That is up to {} % of its ampacity, and no breaker watches a neutral: it can "
                   "overheat.",
                   figure(kPercent * (most / *row.rated_amps))),
       fmt::format("Have a licensed electrician look at its size and at how its circuits are "
                   "paired{}.",
                   over.rms ? ", and measure it with a meter that reads true rms" : "")},
      row.rated_source);
  return true;
}

// The neutral of a circuit or a multiwire smaller than a breaker that it returns the current of.
// Not for two-pole circuits, whose neutral may be smaller by the load.
void check_neutral_size(const Seen& seen, const Cable& cable,
                        std::vector<WiringFinding>& findings) {
  const bool shared = cable.multiwire >= 0;
  if (!shared && cable.hots.size() > 1) return;
  const auto wired = std::find_if(cable.boxes.begin(), cable.boxes.end(), [](const Box& box) {
    return box.upstream >= 0 && box.run.neutral.has_value();
  });
  if (wired == cable.boxes.end()) return;
  const Conductor* neutral = find_conductor(seen.tables, *wired->run.neutral);
  const auto ampacity = neutral == nullptr ? std::nullopt : branch_ampacity(*neutral);
  if (!ampacity) return;
  const Circuit* largest = nullptr;
  for (int c : cable.circuits) {
    const Circuit& circuit = seen.house.circuits[at(c)];
    if (!circuit.breaker_a || circuit.poles > 1) continue;
    if (largest == nullptr || *circuit.breaker_a > *largest->breaker_a) largest = &circuit;
  }
  // A breaker that is too large for the conductor of that size is found as such.
  if (largest == nullptr || *largest->breaker_a <= *ampacity) return;
  if (wired->run.conductor && *wired->run.conductor == *wired->run.neutral) return;
  const std::string& subject =
      shared ? seen.house.multiwires[at(cable.multiwire)].name : largest->name;
  add_finding(
      seen, findings, "neutral smaller than its breaker", FindingSeverity::Caution, subject,
      {fmt::format("The neutral of {} is {} with an ampacity of {} A, behind a {} A breaker.",
                   in_marks(subject), neutral->name, figure(*ampacity),
                   figure(*largest->breaker_a)),
       fmt::format("Alone on, {} can put up to {} A into it without its breaker opening, {} % of "
                   "its ampacity.",
                   in_marks(largest->name), figure(*largest->breaker_a),
                   figure(kPercent * *largest->breaker_a / *ampacity)),
       "Have a licensed electrician look at the size of this neutral."});
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

void check_load(const Seen& seen, std::size_t cable, int hot,
                std::vector<WiringFinding>& findings) {
  constexpr double kRounding = 1e-9;
  const Hot& wired = seen.wiring.cables[cable].hots[at(hot)];
  const Circuit& circuit = seen.house.circuits[at(wired.circuit)];
  if (!circuit.breaker_a) return;
  const PoleAmps amps = pole_amps(seen, cable, hot);
  const double most = *circuit.breaker_a * (1 + kRounding);
  const bool always = amps.always_on > most;
  if (!always && amps.found <= most) return;
  const double over = always ? amps.always_on : amps.found;
  add_finding(
      seen, findings, "load beyond the breaker", FindingSeverity::Caution, circuit.name,
      {fmt::format("{} carries {} A by nameplate on leg {}, beyond its {} A breaker{}.",
                   in_marks(circuit.name), figure(over),
                   seen.wiring.system.legs[at(wired.leg)].name, figure(*circuit.breaker_a),
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
  const std::vector<Hot>& hots = seen.wiring.cables[at(cable)].hots;
  for (std::size_t hot = 0; hot < hots.size(); ++hot) {
    if (hots[hot].circuit == circuit) {
      amps.push_back(hot_amps_of(seen, cable, static_cast<int>(hot)));
    }
  }
  return largest_amps(amps);
}

void check_breakers_of_panels(const Seen& seen, std::vector<WiringFinding>& findings) {
  const House& house = seen.house;
  if (house.service) {
    check_breaker(seen, "service", "The service", house.service->breaker_a, house.service->run,
                  true, largest_amps(seen.as_found.panels.front().hot_amps), findings);
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    check_breaker(seen, house.panels[p].name, "The feeder of " + in_marks(house.panels[p].name),
                  house.panels[p].breaker_a, house.panels[p].run, false,
                  largest_amps(seen.as_found.panels[p].hot_amps), findings);
  }
}

void check_breakers_of_circuits(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t c = 0; c < seen.house.circuits.size(); ++c) {
    const Circuit& circuit = seen.house.circuits[c];
    const Cable& cable = seen.wiring.cables[at(seen.wiring.circuit_cable[c])];
    std::set<std::string> looked_at;  // each conductor of the circuit once, thin ones far out too
    for (const Box& box : cable.boxes) {
      const bool carries = std::any_of(box.hots.begin(), box.hots.end(), [&](int hot) {
        return cable.hots[at(hot)].circuit == static_cast<int>(c);
      });
      if (!carries || !box.run.conductor || !looked_at.insert(*box.run.conductor).second) continue;
      check_breaker(seen, circuit.name, "Circuit " + in_marks(circuit.name), circuit.breaker_a,
                    box.run, false, circuit_amps(seen, static_cast<int>(c)), findings);
    }
  }
}

}  // namespace

void find_overloads(const Seen& seen, std::vector<WiringFinding>& findings) {
  std::set<std::string> found;  // multiwires whose neutral has a finding
  for (std::size_t n = 0; n < seen.neutrals.size(); ++n) {
    const NeutralRow& row = seen.neutrals[n];
    if (check_neutral(seen, n, findings) && row.kind == PlaceKind::SharedRun) {
      found.insert(row.place);
    }
  }
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const Cable& cable = seen.wiring.cables[c];
    const bool told =
        cable.multiwire >= 0 && found.count(seen.house.multiwires[at(cable.multiwire)].name) > 0;
    if (!told) check_neutral_size(seen, cable, findings);
    for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
      check_load(seen, c, static_cast<int>(hot), findings);
    }
  }
  check_breakers_of_panels(seen, findings);
  check_breakers_of_circuits(seen, findings);
}

}  // namespace evenleg
