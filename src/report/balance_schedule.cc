// One plan in full: the legs that it leaves, and each panel's schedule before and after, side by
// side: left spaces from the top, then the right ones, as a panel is read.
#include <algorithm>

#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// What sits in each space of a panel, by number; 0 is none.
struct Face {
  std::vector<std::vector<std::string>> spaces;
};

std::string seat_text(const BalanceView& view, const House& house, const Wiring& wiring,
                      int circuit, int pole, int row_leg) {
  const Circuit& there = house.circuits[at(circuit)];
  std::string text = there.name;
  if (there.poles > 1) text += fmt::format(" ({} of {})", pole + 1, there.poles);
  const int multiwire = wiring.cables[at(wiring.circuit_cable[at(circuit)])].multiwire;
  if (multiwire >= 0) text += fmt::format(" [M{}]", multiwire + 1);
  const int leg = wiring.circuit_legs[at(circuit)][at(pole)];
  if (leg != row_leg) text += " on " + view.leg(at(leg));
  return text;
}

int leg_of_space(const Wiring& wiring, int panel, int space) {
  const std::vector<int>& bus = wiring.panels[at(panel)].legs;
  return bus[at((space - 1) / 2) % bus.size()];
}

Face face_of(const BalanceView& view, const House& house, const Wiring& wiring, int panel) {
  Face face;
  face.spaces.resize(at(house.panels[at(panel)].spaces) + 1);
  for (int c = 0; c < static_cast<int>(house.circuits.size()); ++c) {
    const Circuit& circuit = house.circuits[at(c)];
    if (wiring.circuit_panel[at(c)] != panel || !circuit.space) continue;
    for (int pole = 0; pole < circuit.poles; ++pole) {
      const int space = *circuit.space + 2 * pole;
      face.spaces[at(space)].push_back(
          seat_text(view, house, wiring, c, pole, leg_of_space(wiring, panel, space)));
    }
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    if (wiring.panels[p].fed_from != panel) continue;
    for (int space : house.panels[p].at_spaces) {
      face.spaces[at(space)].push_back("feeds " + house.panels[p].name);
    }
  }
  return face;
}

std::string side_table(const BalanceView& view, int panel, const Face& before, const Face& after,
                       int first) {
  TextTable table({{"space", Align::Right}, {"leg"}, {"before"}, {""}, {"after"}});
  for (int space = first; space < static_cast<int>(before.spaces.size()); space += 2) {
    const auto& was = before.spaces[at(space)];
    const auto& is = after.spaces[at(space)];
    for (std::size_t i = 0; i < std::max<std::size_t>({was.size(), is.size(), 1}); ++i) {
      const std::string old = i < was.size() ? was[i] : i == 0 ? "spare" : "";
      const std::string now = i < is.size() ? is[i] : i == 0 ? "spare" : "";
      table.add({i == 0 ? fmt::format("{}", space) : "",
                 i == 0 ? view.leg(at(leg_of_space(view.wiring, panel, space))) : "", old,
                 old == now ? "" : "->", now});
    }
  }
  return table.empty() ? "" : table.text();
}

std::string legs_after(const BalanceView& view, const BalancePlan& plan) {
  std::vector<Column> columns{{"scenario"}};
  for (const char* when : {"before", "after"}) {
    for (std::size_t leg = 0; leg < view.legs(); ++leg) {
      columns.push_back({fmt::format("{} {} A", view.leg(leg), when), Align::Right});
    }
    columns.push_back({fmt::format("apart {} A", when), Align::Right});
  }
  TextTable table(std::move(columns));
  const auto& before = view.report.balance.scenarios;
  for (std::size_t s = 0; s < std::min(before.size(), plan.scenarios.size()); ++s) {
    std::vector<std::string> cells{before[s].scenario};
    for (const LegLoads* loads : {&before[s], &plan.scenarios[s]}) {
      for (double amps : loads->service) cells.push_back(amps_text(amps));
      cells.push_back(amps_text(spread(loads->service)));
    }
    table.add(std::move(cells));
  }
  return table.text();
}

}  // namespace

std::string limits_after(const BalanceView& view, const BalancePlan& plan) {
  std::string text;
  for (int p = 0; p < static_cast<int>(view.report.house.panels.size()); ++p) {
    const auto limit = limit_of(view.report.house, p, view.report.limit_options);
    for (const LegLoads& loads : plan.scenarios) {
      const std::vector<double>& amps = loads.panels[at(p)];
      const auto most = std::max_element(amps.begin(), amps.end());
      if (!limit || *most - *limit <= kNothing) continue;
      text += paragraph(fmt::format(
          "With this plan {} of panel {} would be {} A over its {} A in {}.",
          view.leg(at(static_cast<int>(most - amps.begin()))), in_quotes(view.panel(p).name),
          amps_text(*most - *limit), exact(*limit),
          (loads.scenario == "as found" ? "the house " : "") + scenario_words(loads.scenario)));
    }
  }
  return text;
}

std::string plan_schedule_section(const BalanceView& view, const PlannedHouse& shown) {
  const BalancePlan& plan = view.plan(shown.plan);
  std::string text =
      heading(fmt::format("Plan {} before and after", shown.plan + 1)) + legs_after(view, plan);
  const House& house = view.report.house;
  const Wiring planned = wire(shown.house, view.wiring.system);
  for (int p = 0; p < static_cast<int>(house.panels.size()); ++p) {
    const auto moves_here = [p](const CircuitMove& move) { return move.panel == p; };
    if (std::none_of(plan.moved.begin(), plan.moved.end(), moves_here)) {
      text +=
          "\n" + paragraph(fmt::format("Panel {} stays as it is.", in_quotes(view.panel(p).name)));
      continue;
    }
    const Face before = face_of(view, house, view.wiring, p);
    const Face after = face_of(view, shown.house, planned, p);
    text +=
        "\n" +
        paragraph(fmt::format("Panel {}, left side from the top:", in_quotes(view.panel(p).name))) +
        side_table(view, p, before, after, 1);
    if (const std::string right = side_table(view, p, before, after, 2); !right.empty()) {
      text += paragraph("Right side:") + right;
    }
  }
  return text;
}

}  // namespace evenleg
