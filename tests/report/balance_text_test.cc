#include "evenleg/report/balance_text.h"

#include <doctest/doctest.h>

#include <sstream>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "tests/report/sample_balance.h"
#include "tests/report/said.h"

namespace evenleg {
namespace {

}  // namespace

// The figures are those worked out in sample_balance.h; the layout is ours.
TEST_CASE("balance text: the answer stands first, in sentences") {
  const SampleBalance sample = sample_balance();
  const std::string text = balance_text(sample.report());
  CHECK(text.rfind("Five Loads, 120/240 split-phase: how evenly its legs are loaded", 0) == 0);
  CHECK(says(text,
             "The legs are furthest apart in \"Evening\": L1 10.0 A and L2 0 A, 10.0 A between the "
             "largest and the smallest. 1 moved circuit brings that to 2.00 A, proven to be the "
             "least for so many. Even legs lower the current that the service neutral carries in "
             "ordinary use. They do not cure a bad neutral:"));
}

TEST_CASE("balance text: leg loads with three formulas, Japan's limit with its source") {
  const SampleBalance sample = sample_balance();
  const std::string text = balance_text(sample.report());
  CHECK(says(text, "scenario L1 A L2 A apart A mean % largest % half %"));
  CHECK(says(text, "as found 16.0 8.00 8.00 33.3 50.0 66.7"));
  CHECK(says(text, "Evening 10.0 0 10.0 100.0 100.0 200.0"));
  CHECK(says(text, "mean %: 100 · (the leg furthest from the mean, less the mean) / the mean"));
  CHECK(says(text, "largest %: 100 · (largest leg − smallest leg) / largest leg"));
  CHECK(says(text, "half %: 100 · |one leg − the other| / (half of their sum)"));
  CHECK(says(text, "may go to 40 % where it cannot be avoided [1]."));
  CHECK(says(text, "Past that at the service here: as found and \"Evening\"."));
  CHECK(says(text, "[1] JEAC 8001, Japan's internal wiring rules, 1305-1 (2022); read: second"));
}

TEST_CASE("balance text: three legs have no half of a sum, and no limit of Japan's") {
  SampleBalance sample = sample_balance();
  sample.house.supply.system = "120/208 wye";
  for (LegLoads& row : sample.balance.scenarios) {
    row.service.push_back(3);
    row.panels[0].push_back(3);
  }
  sample.balance.plans.clear();
  const std::string text = balance_text(sample.report());
  CHECK(says(text, "mean % largest % ----"));  // then the rule under them
  CHECK_FALSE(says(text, "half %"));
  CHECK_FALSE(says(text, "Japan"));
}

TEST_CASE("balance text: clamped circuits and those that stay are named") {
  const SampleBalance sample = sample_balance();
  const std::string text = balance_text(sample.report());
  CHECK(says(text,
             "As found, one circuit counts with the clamp reading in place of the nameplates: "
             "\"Two\" 6.00 A."));
  CHECK(says(text, "What no plan moves locked: \"Five\"."));
}

TEST_CASE("balance text: a plan says what moves from where to where") {
  const SampleBalance sample = sample_balance();
  const std::string text = balance_text(sample.report());
  CHECK(says(text, "1 1 2.00 proven Evening 0"));
  CHECK(says(text, "Plan 1: 1 circuit changes leg; 2.00 A apart at most."));
  CHECK(says(text, "circuit from space leg to space leg note"));
  CHECK(says(text, "Three 5 L1 7 L2"));
  CHECK(says(text, "Moving circuits in a panel is licensed work"));
  CHECK_FALSE(says(text, "before and after ---"));
}

TEST_CASE("balance text: what is not proven or not searched says so") {
  SampleBalance sample = sample_balance();
  sample.balance.plans[0].proven = false;
  sample.balance.complete = false;
  std::string text = balance_text(sample.report());
  CHECK(says(text, "brings that to 2.00 A, not proven."));
  CHECK(says(text, "1 1 2.00 not proven Evening 0"));
  CHECK(says(text, "Plans of more than 5 moves were not looked for."));
  sample.balance.plans.clear();
  text = balance_text(sample.report());
  CHECK(says(text, "No plan of up to 5 moves brings them closer"));
  sample.balance.complete = true;
  CHECK(says(balance_text(sample.report()), "No move of circuits brings them closer."));
}

TEST_CASE("balance text: of many plans the first are told, and one that is asked for alone") {
  SampleBalance sample = sample_balance();
  sample.balance.plans.resize(5, sample.balance.plans[0]);
  sample.balance.plans[4].moved.push_back({0, 0, 1, 6, {"L1"}, {"L1"}, false});
  const std::string text = balance_text(sample.report());
  CHECK(says(text, "Plan 3: "));
  CHECK_FALSE(says(text, "Plan 4: "));
  CHECK(says(text, "2 plans are not told here: --plan N tells any of them"));
  PlannedHouse shown = sample_planned();
  shown.plan = 4;
  const std::string one = balance_text(sample.report(), shown);
  CHECK_FALSE(says(one, "Plan 1: "));
  CHECK(says(one,
             "Plan 5: 1 circuit changes leg, one slides to another space of its own leg to make "
             "room; 2.00 A apart at most."));
  CHECK(says(one, "One 1 L1 6 L1 same leg"));
}

TEST_CASE("balance text: the schedule before and after, side by side") {
  const SampleBalance sample = sample_balance();
  const std::string text = balance_text(sample.report(), sample_planned());
  CHECK(says(text, "Plan 1 before and after"));
  CHECK(says(text, "as found 16.0 8.00 8.00 12.0 12.0 0"));
  CHECK(says(text, "Evening 10.0 0 10.0 6.00 4.00 2.00"));
  CHECK(says(
      text,
      "Panel \"Main\", left side from the top: space leg before after ----- --- ------ -- ----- "
      "1 L1 One One 3 L2 Four Four 5 L1 Three -> spare 7 L2 spare -> Three Right side:"));
  CHECK(says(text, "2 L1 Two Two 4 L2 Five Five 6 L1 spare spare 8 L2 spare spare"));
}

TEST_CASE("balance text: what a plan does to the neutral, and if one opens") {
  const SampleBalance sample = sample_balance();
  BalanceReport report = sample.report();
  CHECK_FALSE(says(balance_text(report), "if a neutral opens"));
  report.as_it_is = sample_figures();
  NeutralFigures planned = sample_figures();
  planned.as_found = amps(0);
  planned.highest = Extreme<Amps>{amps(12), amps(13), false, {}};
  planned.past = 1;
  planned.proven = false;
  report.with_plan = {planned};
  const std::string text = balance_text(report);
  CHECK(says(text, "neutral A highest A loads past worst over worst load open at"));
  CHECK(says(text, "as it is 8.00 16.0 2 of 5 1.75 Load 4 service"));
  CHECK(says(text, "plan 1 0 12.0 (≤ 13.0) 1 of 5 ? 1.75 Load 4 service"));
  CHECK(says(text, "?: not all of these are proven"));
}

// By hand: 16 A on L1 against 12 A is 4 A over; without "Load 1" 10 A are left. In the plan both
// legs have 12 A.
TEST_CASE("balance text: legs past their limit and what to shed") {
  const SampleBalance sample = sample_balance();
  BalanceReport report = sample.report();
  CHECK_FALSE(says(balance_text(report), "Legs against their limit"));
  report.limit_options = {11.5, 0};
  LegLimit row{0, 11.5, "as found", {16, 8}, 0, 4.5, {}, {10, 8}, true};
  row.shed = {{0, -1, 0, 6, false}};
  LegLimit within{0, 11.5, "Evening", {10, 0}, 0, -1.5, {}, {10, 0}, true};
  report.limits = {row, within};
  std::string text = balance_text(report, sample_planned());
  CHECK(says(text, "Service and panel \"Main\", 11.5 A on each leg (as asked):"));
  CHECK(says(text, "as found L1 16.0 11.5 - 4.50"));
  CHECK(says(text, "Evening L1 10.0 11.5 1.50 -"));
  CHECK(says(text,
             "as found: L1 is 4.50 A over. To shed, largest first: \"Load 1\" (6.00 A on L1). That "
             "leaves L1 10.0 A and L2 8.00 A."));
  CHECK(says(text,
             "With this plan L1 of panel \"Main\" would be 0.500 A over its 11.5 A in the house "
             "as found."));
  report.limits[0].fits = false;
  CHECK(says(balance_text(report), "It stays over even with all that is described on it shed."));
}

TEST_CASE("balance text: lines keep to the page, whatever the names are") {
  SampleBalance sample = sample_balance();
  for (Circuit& circuit : sample.house.circuits) circuit.name += std::string(90, 'x');
  for (std::size_t i = 0; i < sample.house.loads.size(); ++i) {
    sample.house.loads[i].at = sample.house.circuits[i].name;
  }
  sample.house.panels[0].name = std::string(120, 'p');
  sample.balance.scenarios[1].scenario = std::string(120, 's');
  sample.balance.plans[0].scenarios[1].scenario = std::string(120, 's');
  BalanceReport report = sample.report();
  report.as_it_is = sample_figures();
  report.with_plan = {sample_figures()};
  report.limits = {
      {0, 12, std::string(120, 's'), {16, 8}, 0, 4, {{0, -1, 0, 6, false}}, {10, 8}, true}};
  PlannedHouse shown = sample_planned();
  shown.house = sample.house;
  shown.house.circuits[2].space = 7;
  std::istringstream lines(balance_text(report, shown));
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(columns(line) <= kPageColumns);
    CHECK((line.empty() || line.back() != ' '));
  }
}

TEST_CASE("balance text: an audit's figures are those of its service neutral and its ranking") {
  Audit audit;
  NeutralRow feeder;
  feeder.kind = PlaceKind::Feeder;
  feeder.amps = amps(3);
  NeutralRow service;
  service.amps = amps(8);
  service.highest = Extreme<Amps>{amps(16), amps(16), true, {}};
  audit.neutrals = {service, feeder};
  OpenNeutral open;
  open.place.name = "service";
  open.loads.resize(1);
  open.loads[0].highest = Extreme<Volts>{volts(231), volts(231), true, {}};
  audit.open_neutral = {open};
  RankRow past, within;
  past.over = 1.75;
  within.over = 1.0;
  audit.ranking = {past, within};
  NeutralFigures figures = neutral_figures(audit);
  CHECK(figures.as_found == amps(8));
  CHECK(figures.highest->value == amps(16));
  CHECK(figures.loads == 2);
  CHECK(figures.past == 1);
  CHECK(figures.worst->over == 1.75);
  CHECK(figures.worst_place == "service");
  CHECK(figures.proven);
  audit.open_neutral[0].loads[0].highest->proven = false;
  CHECK_FALSE(neutral_figures(audit).proven);
}

}  // namespace evenleg
