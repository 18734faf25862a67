#include "evenleg/report/neutral_text.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "tests/report/sample_audit.h"
#include "tests/report/sample_neutral.h"
#include "tests/report/said.h"

namespace evenleg {
namespace {

std::string text_of(const SampleNeutral& sample, const NeutralTextOptions& options = {}) {
  return neutral_text(sample.house, sample.tables, sample.depth, options);
}

}  // namespace

// The figures are those worked out in sample_neutral.h; the layout is ours.
TEST_CASE("neutral text: the answer stands first, in sentences") {
  const std::string text = text_of(sample_neutral());
  CHECK(text.rfind("Fernhill Cottage, 120/240 split-phase: the service neutral from ", 0) == 0);
  CHECK(says(text,
             "Too high: with 1.07 Ω added in the service neutral, the first load, \"Reading lamp\" "
             "(Snug), could reach the 132 V that it withstands [1]. That takes \"Kettle\" and "
             "\"Reading lamp\" on, and all else off. 1.07 Ω is 10.7 times the conductor's own "
             "0.100 Ω. Proven at that resistance: no credible state takes a load more than 0.01 V "
             "past what it withstands."));
  CHECK(says(text,
             "Too low: with 8.08 Ω added in the service neutral, the first load, \"Kettle\" "
             "(Worktop), could fall to the 66.0 V below which it stalls [2]. That takes \"Kettle\" "
             "on, and all else off. 8.08 Ω is 80.8 times"));
  CHECK(says(text,
             "a joint of 1.07 Ω would carry 10.2 A: a meter across it would read 11.0 V, and 112 W "
             "would heat it. Over the credible states at most 124 W could. That takes "
                   "\"Kettle\" on, and all else off."));
  CHECK(says(text, "8.08 Ω could heat the joint most: 352 W."));
  CHECK(says(text, "[1] A curve, steady state (2000); read: second hand"));
  CHECK(says(text, "[2] A motor book (1999); read: from memory"));
}

TEST_CASE("neutral text: legs, extremes, outlets and loads by what is added") {
  const std::string text = text_of(sample_neutral());
  CHECK(has(text, R"(
Legs as found, by what the joint adds
  added Ω  then      L1 V  L2 V  shift V     A  across V  heat W
  -------  --------  ----  ----  -------  ----  --------  ------
        0  sound      119   121     1.14  11.4         0       0
     1.07  too high   108   132     12.0  10.2      11.0     112
     8.08  too low   69.2   171     50.8  6.21      50.2     312
        -  open      9.60   230      110     0         -       0
)"));
  CHECK(has(text, R"(
Over the credible states, by what the joint adds
  added Ω  then      heat W at most  lowest V  load    highest V  load          past
  -------  --------  --------------  --------  ------  ---------  ------------  ----
        0  sound                  -       119  Kettle        121  Reading lamp     0
     1.07  too high             124       107  Kettle        132  Reading lamp     0
     8.08  too low              352      66.0  Kettle        171  Reading lamp     1
        -  open                   -         0  Kettle        230  Reading lamp     1
)"));
  CHECK(has(text, R"(
Outlets as found, V, by what the joint adds
  outlet   between  sound  1.07 Ω *  8.08 Ω *  open
  -------  -------  -----  --------  --------  ----
  Worktop  L1-N       119       108      69.2  9.60
  Snug     L2-N       121       132       171   230
  Spare    L2-N       121       132       171   230
)"));
  CHECK(has(text, R"(
Loads over the credible states, lowest to highest V
  load          outlet   limit V       sound    1.07 Ω *      8.08 Ω *       open
  ------------  -------  -------  ----------  ----------  ------------  ---------
  Reading lamp  Snug         132  120 to 121  119 to 132    116 to 171   0 to 230
  Kettle        Worktop      132  119 to 119  107 to 108  66.0 to 69.2  0 to 9.60

  outlet with no load  between       sound    1.07 Ω *    8.08 Ω *      open
  -------------------  -------  ----------  ----------  ----------  --------
  Spare                L2-N     120 to 121  119 to 133  116 to 174  0 to 240
)"));
  CHECK(says(text, "Lowest and highest: each proven to 0.01 V at its resistance."));
}

TEST_CASE("neutral text: a limit that is passed with a sound neutral") {
  SampleNeutral sample = sample_neutral();
  sample.house.loads[kLamp].max_volts = 121;
  sample.depth.high = {ohms(0), kLamp, volts(121), {kKettle, kLamp}, true};
  const std::string text = text_of(sample);
  CHECK(says(text,
             "Too high: already with the service neutral sound, \"Reading lamp\" (Snug) could see "
             "more than the 121 V that it withstands, as described. That takes"));
  CHECK(has(text, "  sound, too high  "));
  CHECK(says(text, "a joint of 8.08 Ω would carry 6.21 A"));  // the limit that takes a joint
}

TEST_CASE("neutral text: no limit, and how far that is known") {
  SampleNeutral sample = sample_neutral();
  sample.depth.high.reset();
  sample.depth.low.reset();
  sample.depth.none_high_proven = sample.depth.none_low_proven = true;
  CHECK(says(text_of(sample),
             "is a credible state found that takes a load past what it withstands. Proven at each "
             "resistance listed below; nothing is proven in between."));
  CHECK(says(text_of(sample), "is a credible state found in which a load has too few volts to run. "
                              "Proven at each"));
  sample.depth.none_high_proven = false;
  CHECK(says(text_of(sample), "past what it withstands. Found so, not proven"));
  sample.house.loads[kKettle].kind = "plain";
  CHECK_FALSE(says(text_of(sample), "too few volts to run."));
}

TEST_CASE("neutral text: no load beyond, and nothing is claimed of any") {
  SampleNeutral sample = sample_neutral();
  for (NeutralPoint& point : sample.depth.curve) {
    point.loads.clear();
    point.empty.clear();
    point.highest.reset();
    point.lowest.reset();
  }
  const std::string text = text_of(sample);
  CHECK(says(text, "No load that can run hangs on the neutral beyond it."));
  CHECK_FALSE(says(text, "proven to 0.01 V"));
  CHECK_FALSE(has(text, "\nLimits and their sources\n"));
}

TEST_CASE("neutral text: as found beyond the credible states is said") {
  SampleNeutral sample = sample_neutral();
  CHECK_FALSE(says(text_of(sample), "is no credible state"));
  sample.depth.curve[1].highest_heat->bound = watts(100);  // as found 112.49
  CHECK(says(text_of(sample), "What is on as found is no credible state: some figures as found go "
                              "beyond those over the credible states"));
  sample = sample_neutral();
  sample.depth.curve[3].loads[kLamp].highest->bound = volts(220);  // as found 230.4
  CHECK(says(text_of(sample), "is no credible state"));
  sample = sample_neutral();
  for (NeutralPoint& point : sample.depth.curve) {
    point.loads[kKettle].highest.reset();  // on as found, in no credible state
    point.loads[kKettle].lowest.reset();
  }
  CHECK(says(text_of(sample), "is no credible state"));
}

TEST_CASE("neutral text: what is not proven carries its mark") {
  SampleNeutral sample = sample_neutral();
  Extreme<Volts>& highest = *sample.depth.curve[3].loads[kLamp].highest;
  highest.proven = false;
  highest.bound = volts(240);
  sample.depth.high->proven = false;
  std::string text = text_of(sample);
  CHECK(says(text, "Found, not proven: a credible state may get there with less."));
  CHECK(has(text, "0 to 230 (≤ 240)"));
  CHECK(says(text, "no credible state exceeds 240"));
  sample.depth.certified = false;
  text = text_of(sample);
  CHECK(says(text, "to open, searched without proof "));
  CHECK(has(text, "0 ? to 230 ?"));
  CHECK(says(text, "124 W or more could."));
  CHECK(has(text, "132 ?  Reading lamp   0 ?\n"));
  CHECK_FALSE(says(text, "Proven at"));
}

TEST_CASE("neutral text: without a resistance of its own there is no margin") {
  SampleNeutral sample = sample_neutral();
  sample.depth.sound = ohms(0);
  CHECK(says(text_of(sample), "own resistance is 0 Ω as described, so there is no margin"));
}

TEST_CASE("neutral text: at most six columns of ohms, sound, limits and open among them") {
  SampleNeutral sample = sample_neutral();
  std::vector<NeutralPoint>& curve = sample.depth.curve;
  for (const double added : {0.3, 0.5, 3.0, 30.0, 100.0}) {
    NeutralPoint point = curve[1];
    point.added = ohms(added);
    point.legs[1].volts = volts(120 + 10 * added / (1 + added / 12));
    point.legs[0].volts = volts(240) - point.legs[1].volts;
    curve.insert(curve.end() - 1, point);
  }
  std::sort(curve.begin(), curve.end(), [](const NeutralPoint& a, const NeutralPoint& b) {
    return a.added < b.added;
  });
  const auto heading_of = [](const std::string& text) {
    const std::size_t at = text.find("  outlet   between");
    return text.substr(at, text.find('\n', at) - at);
  };
  // 30 Ω lies furthest from its neighbours (205.7 V between 170.8 and 230.4), then 3 Ω (144 V
  // between 132 and 170.8).
  CHECK(heading_of(text_of(sample)) ==
        "  outlet   between  sound  1.07 Ω *  3.00 Ω  8.08 Ω *  30.0 Ω  open");
  const std::string all = text_of(sample, {.all = true, .scenario = {}});
  CHECK(heading_of(all) ==
        "  outlet   between  sound  0.300 Ω  0.500 Ω  1.07 Ω *  3.00 Ω  8.08 Ω *");
  CHECK(has(all, "  outlet   between  30.0 Ω  100 Ω  open\n"));
}

TEST_CASE("neutral text: how real loads would behave with it open") {
  SampleNeutral sample = sample_neutral();
  CHECK_FALSE(has(text_of(sample), "How real loads"));
  StateBehaviour state;
  state.as_found = true;
  state.on = {kKettle, kLamp};
  state.result.any_law = state.result.connected = true;
  state.result.points = {{{}, true, {}}};
  CascadeStep step;
  step.stable = true;
  step.loads = {{kKettle, volts(9.6), LoadStatus::Stalled, false, false}};
  state.result.cascade = {step};
  sample.depth.behaviour = {state};
  CHECK(says(text_of(sample), "With the service neutral open, as found, these laws show no load"));
  CHECK(says(text_of(sample), "mill law: constant impedance [3]; stalls below 0.550 [2]"));
  CHECK(says(text_of(sample, {.all = true, .scenario = {}}),
             "With the service neutral open, as found: There is one balance point, and it holds."));
  sample.depth.behaviour[0].result.cascade[0].ran_away = true;
  CHECK(says(text_of(sample), "With the service neutral open, as found: There is one"));
}

TEST_CASE("neutral text: it ends with the cautions, names the scenario, and keeps to the page") {
  SampleNeutral sample = sample_neutral();
  sample.house.loads[kLamp].name = std::string(80, 'x');
  sample.depth.curve[1].loads[kLamp].highest->proven = false;
  const std::string text = text_of(sample, {.all = false, .scenario = "Night"});
  CHECK(says(text, ", as in scenario \"Night\" "));
  CHECK(text.find("\nCautions\n") > text.find("\nLimits and their sources\n"));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(columns(line) <= kPageColumns);
  }
}

}  // namespace evenleg
