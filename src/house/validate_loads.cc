// Loads: where they sit, which hots reach them, and their rating.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "evenleg/base/format.h"
#include "src/house/judge.h"
#include "src/house/reach.h"

namespace evenleg {
namespace {

constexpr std::string_view kKind = "load";
constexpr int kShownOrder = 10;  // columns

void add_circuit(const Judge& judge, Reach& reach, int circuit) {
  const auto& legs = judge.circuit_legs[static_cast<std::size_t>(circuit)];
  reach.known = reach.known && !legs.empty();
  for (int leg : legs) {
    reach.hots.push_back({circuit, judge.system->legs[static_cast<std::size_t>(leg)].name});
  }
}

Reach reach_of_outlet(const Judge& judge, const Outlet& outlet) {
  Reach reach;
  const auto circuit = find(judge.circuits, outlet.on);
  const auto multiwire = find(judge.multiwires, outlet.on);
  reach.known = circuit.has_value() != multiwire.has_value();
  if (!reach.known) return reach;
  if (circuit) {
    add_circuit(judge, reach, *circuit);
    return reach;
  }
  reach.shared = true;
  for (const std::string& name :
       judge.house.multiwires[static_cast<std::size_t>(*multiwire)].circuits) {
    const auto member = find(judge.circuits, name);
    reach.known = reach.known && member;
    if (member) add_circuit(judge, reach, *member);
  }
  reach.known = reach.known && !reach.hots.empty();
  return reach;
}

Reach judge_at(Judge& judge, std::size_t l) {
  const std::string& at = judge.house.loads[l].at;
  const auto outlet = find(judge.outlets, at);
  const auto circuit = find(judge.circuits, at);
  Reach nowhere;
  nowhere.known = false;
  if (outlet && circuit) {
    judge.fault(kKind, l, "at", fmt::format("both an outlet and a circuit are called \"{}\"", at),
                "rename one of them");
    return nowhere;
  }
  if (outlet) return reach_of_outlet(judge, judge.house.outlets[static_cast<std::size_t>(*outlet)]);
  if (circuit) {
    Reach reach;
    add_circuit(judge, reach, *circuit);
    return reach;
  }
  if (at.empty()) return nowhere;
  std::vector<std::string> known = names_in(judge.outlets);
  for (std::string& name : names_in(judge.circuits)) known.push_back(std::move(name));
  judge.fault(kKind, l, "at", fmt::format("no outlet or circuit is called \"{}\"", at),
              remedy_for_unknown("outlet or circuit", at, known));
  return nowhere;
}

// Checks `circuit`; gives the index, or nothing where the load names none or a wrong one.
std::optional<int> judge_circuit_of(Judge& judge, std::size_t l, Reach& reach) {
  const Load& load = judge.house.loads[l];
  if (!load.circuit) return std::nullopt;
  const auto circuit = find(judge.circuits, *load.circuit);
  const bool reaches =
      circuit && std::any_of(reach.hots.begin(), reach.hots.end(),
                             [&](const auto& hot) { return hot.circuit == *circuit; });
  if (!circuit) {
    judge.fault(kKind, l, "circuit", fmt::format("no circuit is called \"{}\"", *load.circuit),
                remedy_for_unknown("circuit", *load.circuit, names_in(judge.circuits)));
  } else if (!reach.known) {
    // Nothing more can be said.
  } else if (!reach.shared) {
    judge.fault(kKind, l, "circuit",
                "only a load at an outlet on a multiwire has a circuit to name",
                "leave circuit out");
  } else if (!reaches) {
    judge.fault(kKind, l, "circuit",
                fmt::format("circuit \"{}\" does not reach \"{}\"", *load.circuit, load.at),
                "name a circuit of the multiwire that the outlet is on");
  } else {
    return circuit;
  }
  reach.known = false;
  return std::nullopt;
}

void judge_rating(Judge& judge, std::size_t l) {
  const Load& load = judge.house.loads[l];
  std::vector<std::string> given;
  if (load.watts) given.push_back("watts");
  if (load.va) given.push_back("va");
  if (load.amps) given.push_back("amps");
  if (load.ohms) given.push_back("ohms");
  if (load.measured_amps) given.push_back("measured_amps");
  if (given.empty()) {
    judge.fault(kKind, l, "", "the load has no rating",
                "give one of watts, va, amps, ohms or measured_amps");
  } else if (given.size() > 1) {
    judge.fault(kKind, l, given[1], fmt::format("{} are given together", listed(given)),
                "keep exactly one of them");
  }
  if (!load.ohms) return;
  if (!load.spectrum.empty()) {
    judge.fault(kKind, l, "spectrum", "ohms is a pure resistance, which has no spectrum of its own",
                "leave spectrum out, or give va");
  }
  if (load.power_factor && *load.power_factor != 1) {
    judge.fault(
        kKind, l, "power_factor",
        fmt::format("ohms is a pure resistance, and power_factor is {}", exact(*load.power_factor)),
        "leave power_factor out, or give va");
  }
  if (load.leading) {
    judge.fault(kKind, l, "leading", "ohms is a pure resistance, which neither lags nor leads",
                "leave leading out, or give va");
  }
}

void judge_spectrum(Judge& judge, std::size_t l) {
  const Load& load = judge.house.loads[l];
  for (const auto& [order, angle] : load.spectrum_degrees) {
    if (load.spectrum.count(order) > 0) continue;
    judge.fault(kKind, l, "spectrum_degrees",
                fmt::format("there is an angle for order {}, and spectrum has no such order",
                            shortened(order, kShownOrder)),
                "add the order to spectrum, or leave its angle out");
    return;
  }
}

// How the current of a starting motor is given: in amperes, or by code letter and horsepower.
void judge_starting(Judge& judge, std::size_t l) {
  const Load& load = judge.house.loads[l];
  if (load.starting_amps && (load.code_letter || load.horsepower)) {
    judge.fault(kKind, l, load.code_letter ? "code_letter" : "horsepower",
                "the starting current is given twice",
                "keep starting_amps, or code_letter with horsepower");
  } else if (load.code_letter && !load.horsepower) {
    judge.fault(kKind, l, "code_letter", "a code letter says nothing without the horsepower",
                "add horsepower, or give starting_amps");
  } else if (load.horsepower && !load.code_letter) {
    judge.fault(kKind, l, "horsepower", "horsepower is there without a code letter",
                "add code_letter, or give starting_amps");
  }
  if (load.starting_amps || load.code_letter || load.horsepower) return;
  for (const auto& [key, given] : {std::pair{"starts_per_hour", load.starts_per_hour.has_value()},
                                   std::pair{"starting_power_factor",
                                             load.starting_power_factor.has_value()}}) {
    if (!given) continue;
    judge.fault(kKind, l, key, fmt::format("{} is there without a starting current", key),
                "add starting_amps, or code_letter with horsepower");
  }
}

void judge_kind(Judge& judge, std::size_t l) {
  const std::string& kind = judge.house.loads[l].kind;
  const auto& known = judge.vocabulary.load_kinds;
  if (kind.empty() || std::find(known.begin(), known.end(), kind) != known.end()) return;
  const auto close = nearest(kind, known);
  judge.fault(kKind, l, "kind", fmt::format("no kind of load is called \"{}\"", kind),
              close ? fmt::format("perhaps \"{}\"", *close)
                    : "name a kind of the load table, or leave it out for a plain load");
}

// The cable that a load hangs on: its multiwire's name or its circuit's; nothing when not known.
std::optional<std::string> cable_of(const Judge& judge, const Load& load) {
  std::string on = load.at;
  if (const auto outlet = find(judge.outlets, load.at)) {
    on = judge.house.outlets[static_cast<std::size_t>(*outlet)].on;
  }
  const auto circuit = find(judge.circuits, on);
  if (!circuit) return find(judge.multiwires, on) ? std::optional(on) : std::nullopt;
  const int multiwire = judge.circuit_multiwire[static_cast<std::size_t>(*circuit)];
  if (multiwire < 0) return on;
  return judge.house.multiwires[static_cast<std::size_t>(multiwire)].name;
}

// The audit keeps the loads of a cable that are on in the bits of one word.
void judge_crowding(Judge& judge) {
  constexpr int kMostLoadsOfCable = 64;
  std::map<std::string, int> counts;
  for (std::size_t l = 0; l < judge.house.loads.size(); ++l) {
    const auto cable = cable_of(judge, judge.house.loads[l]);
    if (!cable || ++counts[*cable] != kMostLoadsOfCable + 1) continue;
    judge.fault(kKind, l, "at",
                fmt::format("\"{}\" has more than {} loads", *cable, kMostLoadsOfCable),
                "enter loads that always run together as one");
  }
}

}  // namespace

void judge_loads(Judge& judge) {
  judge_crowding(judge);
  for (std::size_t l = 0; l < judge.house.loads.size(); ++l) {
    judge_kind(judge, l);
    judge_rating(judge, l);
    judge_spectrum(judge, l);
    judge_starting(judge, l);
    Reach reach = judge_at(judge, l);
    const auto circuit = judge_circuit_of(judge, l, reach);
    if (reach.known && !judge.out_of_bounds(kKind, l, "connect")) {
      judge_connection(judge, l, reach, circuit);
    }
  }
}

}  // namespace evenleg
