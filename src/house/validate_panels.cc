// How panels feed each other, which legs each circuit sits on, and who takes which space.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "evenleg/base/format.h"
#include "evenleg/house/limits.h"
#include "src/house/judge.h"

namespace evenleg {
namespace {

constexpr int kMostPoles = 3;  // one for each leg of a wye

// What a person could write on a feeder and would expect to count; the first panel has none.
bool has_run(const Run& run) { return !(run == Run{}); }

void judge_first_panel(Judge& judge, const Panel& panel) {
  if (panel.fed_from) {
    judge.fault("panel", 0, "fed_from", "the first panel is fed by the service, not by a panel",
                "leave fed_from out, or list the panel that the service feeds first");
  }
  if (!panel.at_spaces.empty()) {
    judge.fault("panel", 0, "at_spaces", "the first panel sits in no other panel's spaces",
                "leave at_spaces out");
  }
  if (has_run(panel.run)) {
    judge.fault("panel", 0, "",
                "the first panel is fed by the service and has no feeder of its own",
                "write its conductor, length or ohms under [service]");
  }
}

// The feeding panel of each, -1 for the service, nothing where the description does not say.
std::vector<std::optional<int>> feeding_panels(Judge& judge) {
  std::vector<std::optional<int>> feeding(judge.house.panels.size());
  for (std::size_t p = 0; p < feeding.size(); ++p) {
    const Panel& panel = judge.house.panels[p];
    if (p == 0) {
      judge_first_panel(judge, panel);
      feeding[p] = -1;
    } else if (!panel.fed_from) {
      judge.fault("panel", p, "fed_from", "only the first panel is fed by the service",
                  "name the panel that feeds this one");
    } else if (feeding[p] = find(judge.panels, *panel.fed_from); !feeding[p]) {
      judge.fault("panel", p, "fed_from", fmt::format("no panel is called \"{}\"", *panel.fed_from),
                  remedy_for_unknown("panel", *panel.fed_from, names_in(judge.panels)));
    }
  }
  return feeding;
}

// Each panel's loop is told once, at the panel of the loop that is listed first.
void judge_feeding_loops(Judge& judge, std::vector<std::optional<int>>& feeding) {
  const std::vector<std::optional<int>> as_given = feeding;
  for (std::size_t start = 1; start < feeding.size(); ++start) {
    std::vector<std::string> loop{judge.house.panels[start].name};
    bool lowest = true;
    std::optional<int> next = as_given[start];
    while (next && *next > 0 && *next != static_cast<int>(start) && loop.size() < feeding.size()) {
      lowest = lowest && *next > static_cast<int>(start);
      loop.push_back(judge.house.panels[static_cast<std::size_t>(*next)].name);
      next = as_given[static_cast<std::size_t>(*next)];
    }
    if (next != static_cast<int>(start)) continue;
    feeding[start].reset();
    if (!lowest) continue;
    judge.fault("panel", start, "fed_from",
                loop.size() == 1 ? fmt::format("panel \"{}\" is fed from itself", loop[0])
                                 : fmt::format("panels {} feed each other in a loop", listed(loop)),
                "feed one of them from a panel outside the loop");
  }
}

// Requires: no loops.
void judge_depth(Judge& judge, const std::vector<std::optional<int>>& feeding) {
  for (std::size_t p = 1; p < feeding.size(); ++p) {
    std::size_t feeders = 0;
    for (auto at = static_cast<std::optional<int>>(static_cast<int>(p)); at && *at > 0;
         at = feeding[static_cast<std::size_t>(*at)]) {
      ++feeders;
    }
    if (feeders != kMostFeedersDeep + 1) continue;  // those beyond it follow from this one
    judge.fault("panel", p, "fed_from",
                fmt::format("it is fed through {} feeders, one after the other, and at most {} can "
                            "be followed",
                            feeders, kMostFeedersDeep),
                "check which panel feeds which");
  }
}

// The legs of one space of a panel; empty when they are not known.
std::vector<int> legs_of_space(const Judge& judge, int space, const WiredPanel& panel) {
  Circuit single;
  single.space = space;
  return legs_of_circuit(single, panel, *judge.system);
}

// Wires each panel whose feeding panel is wired, until nothing changes. A panel that cannot be
// wired keeps no legs, and what sits on it is judged without them.
void wire_what_is_sound(Judge& judge, const std::vector<std::optional<int>>& feeding) {
  if (!judge.system) return;
  for (std::size_t leg = 0; leg < judge.system->legs.size(); ++leg) {
    judge.wired_panels[0].legs.push_back(static_cast<int>(leg));
  }
  for (bool progress = true; progress;) {
    progress = false;
    for (std::size_t p = 1; p < feeding.size(); ++p) {
      WiredPanel& wired = judge.wired_panels[p];
      if (!wired.legs.empty() || !feeding[p] || *feeding[p] < 0) continue;
      const WiredPanel& from = judge.wired_panels[static_cast<std::size_t>(*feeding[p])];
      if (from.legs.empty() || judge.out_of_bounds("panel", p, "at_spaces")) continue;
      wired.fed_from = *feeding[p];
      for (int space : judge.house.panels[p].at_spaces) {
        for (int leg : legs_of_space(judge, space, from)) wired.legs.push_back(leg);
      }
      if (judge.house.panels[p].at_spaces.empty()) wired.legs = from.legs;
      std::sort(wired.legs.begin(), wired.legs.end());
      const auto repeated = std::adjacent_find(wired.legs.begin(), wired.legs.end());
      if (repeated != wired.legs.end()) {
        const std::string& leg = judge.system->legs[static_cast<std::size_t>(*repeated)].name;
        judge.fault("panel", p, "at_spaces", fmt::format("two of its spaces are on leg {}", leg),
                    "give one space for each leg that the feeder carries");
      }
      wired.legs.erase(std::unique(wired.legs.begin(), wired.legs.end()), wired.legs.end());
      progress = progress || !wired.legs.empty();
    }
  }
}

std::string leg_names(const Judge& judge, const std::vector<int>& legs) {
  std::vector<std::string> names;
  for (int leg : legs) names.push_back(judge.system->legs[static_cast<std::size_t>(leg)].name);
  return listed(names);
}

// The legs that a circuit names, against the system, the panel's bus and its poles.
void judge_named_legs(Judge& judge, std::size_t c, const WiredPanel& panel) {
  const Circuit& circuit = judge.house.circuits[c];
  const bool poles_known = !judge.out_of_bounds("circuit", c, "poles");
  if (poles_known && circuit.legs.size() != static_cast<std::size_t>(circuit.poles)) {
    judge.fault("circuit", c, "legs",
                fmt::format("{} for {}", counted(circuit.legs.size(), "leg"),
                            counted(static_cast<std::size_t>(circuit.poles), "pole")),
                "give one leg for each pole");
  }
  if (panel.legs.empty()) return;
  std::vector<int> all(judge.system->legs.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  for (const std::string& name : circuit.legs) {
    Circuit single;
    single.legs = {name};
    if (legs_of_circuit(single, {-1, all}, *judge.system).empty()) {
      judge.fault("circuit", c, "legs", fmt::format("no leg of this supply is called \"{}\"", name),
                  fmt::format("name {}", leg_names(judge, all)));
    } else if (legs_of_circuit(single, panel, *judge.system).empty()) {
      judge.fault("circuit", c, "legs",
                  fmt::format("leg {} is not on the bus of this circuit's panel", name),
                  fmt::format("name {}", leg_names(judge, panel.legs)));
    }
  }
}

void judge_circuit(Judge& judge, std::size_t c, const WiredPanel& panel) {
  const Circuit& circuit = judge.house.circuits[c];
  const bool by_space = circuit.legs.empty();
  if (!by_space) judge_named_legs(judge, c, panel);
  if (by_space && !circuit.space) {
    judge.fault("circuit", c, "space", "the circuit has neither a space nor legs",
                "give its space in the panel, or its legs");
    return;
  }
  const bool bad_space = by_space && judge.out_of_bounds("circuit", c, "space");
  if (panel.legs.empty() || bad_space) return;
  if (circuit.poles < 1 || circuit.poles > kMostPoles) return;
  const std::vector<int> legs = legs_of_circuit(circuit, panel, *judge.system);
  if (legs.size() != static_cast<std::size_t>(circuit.poles)) return;
  std::vector<int> sorted = legs;
  std::sort(sorted.begin(), sorted.end());
  const auto repeated = std::adjacent_find(sorted.begin(), sorted.end());
  if (repeated != sorted.end()) {
    judge.fault("circuit", c, by_space ? "poles" : "legs",
                fmt::format("two of its {} poles are on leg {}", circuit.poles,
                            leg_names(judge, {*repeated})),
                "the poles of one circuit need different legs");
    return;
  }
  judge.circuit_legs[c] = legs;
}

}  // namespace

void judge_panels(Judge& judge) {
  if (judge.house.panels.empty()) {
    judge.fault("panel", 0, "", "the house has no panel", "add the panel that the service feeds");
    return;
  }
  std::vector<std::optional<int>> feeding = feeding_panels(judge);
  judge_feeding_loops(judge, feeding);
  judge_depth(judge, feeding);
  wire_what_is_sound(judge, feeding);
}

void judge_circuits(Judge& judge) {
  for (std::size_t c = 0; c < judge.house.circuits.size(); ++c) {
    const Circuit& circuit = judge.house.circuits[c];
    std::optional<int> panel = 0;
    if (circuit.panel) panel = find(judge.panels, *circuit.panel);
    if (!panel) {
      judge.fault("circuit", c, "panel", fmt::format("no panel is called \"{}\"", *circuit.panel),
                  remedy_for_unknown("panel", *circuit.panel, names_in(judge.panels)));
    }
    const bool wired = panel && !judge.house.panels.empty();
    judge_circuit(judge, c,
                  wired ? judge.wired_panels[static_cast<std::size_t>(*panel)] : WiredPanel{});
  }
}

}  // namespace evenleg
