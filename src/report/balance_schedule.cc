// One plan in full: the legs that it leaves, and each panel's schedule before and after, side by
// side: left spaces from the top, then the right ones, as a panel is read.
#include <algorithm>

#include "evenleg/base/index.h"
#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "evenleg/house/panel_face.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

std::vector<std::string> texts_in(const Position& position, const House& house,
                                  const Wiring& wiring) {
  std::vector<std::string> texts;
  for (const Seat& seat : position.seats) texts.push_back(seat_text(seat, position, house, wiring));
  return texts;
}

// What stands on line `i` of a space.
std::string line_of(const std::vector<std::string>& texts, std::size_t i) {
  return i < texts.size() ? texts[i] : i == 0 ? "spare" : "";
}

// Every second space from `first` on. Requires: `planned` is the wiring of `house`.
std::string side_table(const BalanceView& view, const House& house, const Wiring& planned,
                       int panel, std::size_t first) {
  const PanelFace before = face_of(view.report.house, view.wiring, panel);
  const PanelFace after = face_of(house, planned, panel);
  TextTable table({{"space", Align::Right}, {"leg"}, {"before"}, {""}, {"after"}});
  for (std::size_t p = first; p < before.positions.size(); p += 2) {
    const Position& position = before.positions[p];
    const auto was = texts_in(position, view.report.house, view.wiring);
    const auto is = texts_in(after.positions[p], house, planned);
    for (std::size_t i = 0; i < std::max<std::size_t>({was.size(), is.size(), 1}); ++i) {
      const std::string old = line_of(was, i);
      const std::string now = line_of(is, i);
      table.add({i == 0 ? fmt::format("{}", position.space) : "",
                 i == 0 ? view.leg(at(position.leg)) : "", old, old == now ? "" : "->", now});
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
    text +=
        "\n" +
        paragraph(fmt::format("Panel {}, left side from the top:", in_quotes(view.panel(p).name))) +
        side_table(view, shown.house, planned, p, 0);
    if (const std::string right = side_table(view, shown.house, planned, p, 1); !right.empty()) {
      text += paragraph("Right side:") + right;
    }
  }
  return text;
}

}  // namespace evenleg
