// The wiring rules, each on the smallest house that has the fault and on one that has it not.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>
#include <string_view>

#include "tests/audit/one_fault.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr std::string_view kSound = R"(, common_disconnect = true, neutral_joint = "spliced")";

TEST_CASE("findings: a sound small house has none") {
  // 14 AWG copper on 15 A, 12 AWG on 20 A, 4/0 aluminium on 200 A are the usual pairs (NEC 240.4(D)
  // and table 310.12, from memory). At 10 A the longest run loses 10 ft × 2 × 1.6 mΩ/ft × 10 A =
  // 0.3 V.
  const DescribedAudit house = house_with(R"(
service = {breaker_a = 200, conductor = "4/0 Al", length_ft = 50}
panel = [{name = "Main", spaces = 20},
         {name = "Shed", spaces = 4, fed_from = "Main", conductor = "6 Cu", length_ft = 20}]
circuit = [{name = "first", space = 1, breaker_a = 20},
           {name = "second", space = 3, breaker_a = 20},
           {name = "lights", space = 2, breaker_a = 15, conductor = "14 Cu", length_ft = 10},
           {name = "water", legs = ["L1", "L2"], poles = 2, conductor = "10 Cu", length_ft = 10},
           {name = "bench", panel = "Shed", space = 1, conductor = "12 Cu", length_ft = 10}]
load = [{name = "toaster", at = "first", watts = 1200},
        {name = "kettle", at = "second", watts = 1000},
        {name = "lamps", at = "lights", watts = 600, volts = 120},
        {name = "tank", at = "water", watts = 4500, volts = 240},
        {name = "saw", at = "bench", watts = 1000}]

[[multiwire]]
name = "kitchen"
circuits = ["first", "second"]
conductor = "12 Cu"
length_ft = 10
common_disconnect = true
neutral_joint = "spliced"
)");
  // But for what an open neutral would do, which needs no fault.
  REQUIRE(house.audit.findings.size() == 1);
  CHECK(house.audit.findings.front().rule == "worst open neutral");
  CHECK(house.audit.findings.front().severity == FindingSeverity::Note);
  CHECK(!shows_danger(house.audit));
}

// 15 A and 15 A on one leg put 30 A into the neutral; 5 A and 6 A give 1 A on opposite legs and 11
// A on the same leg (answers on public pages about shared neutrals, addresses not recorded). The
// most that a neutral carries is both loads on one leg, and the larger load alone on opposite legs.
TEST_CASE("findings: two circuits of one leg on a shared neutral") {
  struct Row {
    double first_amps, second_amps;
    std::string_view leg;
    std::string_view as_found, highest;
    std::string_view sentence;  // "": no finding
  };
  const Row kRows[] = {
      {15, 15, "L1", "30", "30", "carries 30.0 A as found and up to 30.0 A"},
      {15, 15, "L2", "0", "15", ""},
      {5, 6, "L1", "11", "11", "carries 11.0 A as found and up to 11.0 A"},
      {5, 6, "L2", "1", "6", ""},
  };
  for (const Row& row : kRows) {
    CAPTURE(row.first_amps);
    CAPTURE(row.leg);
    const DescribedAudit house =
        house_with(multiwire(row.first_amps, row.second_amps, row.leg, kSound));
    CHECK(matches_printed(house.neutral("shared").amps, row.as_found));
    REQUIRE(house.neutral("shared").highest);
    CHECK(matches_printed(house.neutral("shared").highest->value, row.highest));
    CHECK(lacks(house, "same-leg multiwire") == row.sentence.empty());
    CHECK(shows_danger(house.audit) == !row.sentence.empty());
    if (row.sentence.empty()) continue;
    const WiringFinding finding = only_finding(house, "same-leg multiwire");
    CHECK(finding.severity == FindingSeverity::Danger);
    CHECK(finding.subject == "shared");
    CHECK(says(finding, row.sentence));
    CHECK(says(finding, "leg L1"));
    CHECK(!finding.source.empty());
  }
}

// On the same leg nothing is shared between legs, so nothing is opened there.
TEST_CASE("findings: a shared neutral of one leg is no place where a neutral opens between legs") {
  const DescribedAudit same = house_with(multiwire(5, 6, "L1", kSound));
  CHECK(same.audit.open_neutral.size() == 1);  // the service
  const DescribedAudit opposite = house_with(multiwire(5, 6, "L2", kSound));
  CHECK(opposite.audit.open_neutral.size() == 2);
}

// A neutral of 14 AWG copper: 15 A in a branch circuit (NEC 240.4(D), from memory). The run is so
// short, 1 ft and 0.003 ohm, that amperes stay within 0.1 A of the nameplates'.
TEST_CASE("findings: a shared neutral beyond its ampacity") {
  constexpr std::string_view kRule = "neutral beyond its ampacity";
  constexpr std::string_view kRun =
      R"(, common_disconnect = true, neutral_joint = "spliced", conductor = "12 Cu",
neutral = "14 Cu", length_ft = 1)";
  // 18 - 1 = 17 A as found; 18 A with the second load off: 120 % of 15 A.
  const std::string opposite = multiwire(18, 1, "L2", kRun);
  const WiringFinding now = only_finding(house_with(opposite), kRule);
  CHECK(now.severity == FindingSeverity::Danger);
  CHECK(now.subject == "shared");
  CHECK(says(now, "17.0 A as found and up to 18.0 A"));
  CHECK(says(now, "120 % of its ampacity"));
  CHECK(now.source.find("310.15(B)(16) (2011 to 2017)") != std::string::npos);
  // With the first load off it carries 1 A as found, and 18 A only in another state.
  std::string one_off = opposite;
  const std::string kFirst = "amps = 18}";
  one_off.replace(one_off.find(kFirst), kFirst.size(), "amps = 18, on = false}");
  CHECK(only_finding(house_with(one_off), kRule).severity == FindingSeverity::Caution);
  CHECK(lacks(house_with(multiwire(14, 1, "L2", kRun)), kRule));
  // One cause, one finding: on one leg the ampacity stands with the leg.
  const DescribedAudit same = house_with(multiwire(15, 15, "L1", kRun));
  CHECK(lacks(same, kRule));
  CHECK(says(only_finding(same, "same-leg multiwire"), "the conductor's ampacity is 15.0 A"));
}

// Three equal loads of 18 A on a wye: the fundamental cancels and one load alone puts 18 A into the
// neutral, but orders divisible by three add: 3 x 18 x 0.81 = 43.74 A and 3 x 18 x 0.30 = 16.2 A,
// together sqrt(43.74^2 + 16.2^2) = 46.6 A, 233 % of the 20 A of 12 AWG copper (NEC 240.4(D), from
// memory). 1 ft of it, 0.002 ohm, takes 0.03 % of that away.
std::string wye_multiwire(std::string_view spectrum, double amps) {
  std::string text = R"(
panel = [{name = "Main", spaces = 12}]
circuit = [{name = "A", legs = ["L1"]}, {name = "B", legs = ["L2"]}, {name = "C", legs = ["L3"]}]
)";
  for (const char* circuit : {"A", "B", "C"}) {
    text += fmt::format("\n[[load]]\nname = \"on {}\"\nat = \"{}\"\namps = {}\n{}\n", circuit,
                        circuit, amps, spectrum);
  }
  return text + R"(
[[multiwire]]
name = "shared"
circuits = ["A", "B", "C"]
conductor = "12 Cu"
length_ft = 1
common_disconnect = true
neutral_joint = "spliced"
)";
}

TEST_CASE("findings: a shared neutral beyond its ampacity by its harmonics") {
  constexpr std::string_view kRule = "neutral beyond its ampacity";
  constexpr std::string_view kWye = R"(system = "120/208 wye")";
  constexpr std::string_view kSpectrum = "spectrum = { 3 = 81, 9 = 30 }";
  const WiringFinding finding = only_finding(house_with(wye_multiwire(kSpectrum, 18), kWye), kRule);
  CHECK(finding.severity == FindingSeverity::Danger);
  CHECK(finding.subject == "shared");
  CHECK(says(finding, "as found, all orders together, 46.6 A against 20.0 A, its ampacity"));
  CHECK(says(finding, "233 % of its ampacity"));
  CHECK(lacks(house_with(wye_multiwire("", 18), kWye), kRule));
  // 7.7 A: 19.95 A together, within the rating; the same shares of it as above.
  CHECK(lacks(house_with(wye_multiwire(kSpectrum, 7.7), kWye), kRule));
  // 25 A, one load alone beyond the rating too: 64.8 A together, 324 %.
  const WiringFinding both = only_finding(house_with(wye_multiwire(kSpectrum, 25), kWye), kRule);
  CHECK(both.severity == FindingSeverity::Danger);
  CHECK(says(both,
             "up to 25.0 A with every neutral sound; its ampacity is 20.0 A. With its "
             "harmonics it carries, as found, all orders together, 64.8 A against 20.0 A."));
  CHECK(says(both, "324 % of its ampacity"));
}

TEST_CASE("findings: no common disconnect, and not recorded") {
  constexpr std::string_view kRule = "no common disconnect";
  const auto with = [](std::string_view keys) { return house_with(multiwire(5, 6, "L2", keys)); };
  const DescribedAudit none = with(R"(, common_disconnect = false, neutral_joint = "spliced")");
  CHECK(only_finding(none, kRule).severity == FindingSeverity::Caution);
  CHECK(only_finding(none, kRule).subject == "shared");
  const DescribedAudit unknown = with(R"(, neutral_joint = "spliced")");
  CHECK(only_finding(unknown, kRule).severity == FindingSeverity::Note);
  CHECK(lacks(with(kSound), kRule));
}

TEST_CASE("findings: the shared neutral goes through devices, or nobody looked") {
  constexpr std::string_view kRule = "neutral through devices";
  const auto with = [](std::string_view keys) { return house_with(multiwire(5, 6, "L2", keys)); };
  const DescribedAudit through =
      with(R"(, common_disconnect = true, neutral_joint = "through devices")");
  CHECK(only_finding(through, kRule).severity == FindingSeverity::Caution);
  CHECK(only_finding(through, kRule).subject == "shared");
  const DescribedAudit unknown = with(", common_disconnect = true");
  CHECK(only_finding(unknown, kRule).severity == FindingSeverity::Note);
  CHECK(lacks(with(kSound), kRule));
}

TEST_CASE("findings: circuits of two panels on one neutral") {
  const auto with = [](std::string_view panel_of_second) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}, {{name = "Garage", spaces = 4, fed_from = "Main"}}]
circuit = [{{name = "first", legs = ["L1"]}},
           {{name = "second", panel = "{}", legs = ["L2"]}}]
load = [{{name = "load 1", at = "first", amps = 5}}, {{name = "load 2", at = "second", amps = 6}}]

[[multiwire]]
name = "shared"
circuits = ["first", "second"]
common_disconnect = true
neutral_joint = "spliced"
)",
                                  panel_of_second));
  };
  const WiringFinding finding = only_finding(with("Garage"), "multiwire from two panels");
  CHECK(finding.severity == FindingSeverity::Danger);
  CHECK(finding.subject == "shared");
  CHECK(says(finding, "\"Main\" and \"Garage\""));
  CHECK(lacks(with("Main"), "multiwire from two panels"));
}

TEST_CASE("findings: a two-pole circuit with loads from both legs to neutral") {
  const auto with = [](std::string_view second) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "range", space = 1, poles = 2}}]
load = [{{name = "clock", at = "range", connect = "L1-N", watts = 60}},
        {{name = "element", at = "range", connect = "{}", watts = 900}}]
)",
                                  second));
  };
  constexpr std::string_view kRule = "multi-pole circuit shares a neutral";
  CHECK(only_finding(with("L2-N"), kRule).subject == "range");
  CHECK(lacks(with("L1-N"), kRule));
  CHECK(lacks(with("L1-L2"), kRule));
}

// 14 and 12 AWG copper: 15 and 20 A (NEC 240.4(D)). 6 AWG copper: 65 A at 75 °C (table 310.16), so
// the next standard rating, 70 A (240.6(A)). 4/0 aluminium: 200 A for a dwelling's service (table
// 310.12). All from memory.
TEST_CASE("findings: a breaker beyond its conductor") {
  struct Row {
    std::string_view service_a, feeder_a, circuit_a, multiwire_a;
    std::string_view subject;  // "": no finding
    std::string_view limit;
  };
  const Row kRows[] = {
      {"200", "70", "15", "20", "", ""},
      {"225", "70", "15", "20", "service", "200 A"},
      {"200", "80", "15", "20", "Garage", "70.0 A"},
      {"200", "70", "20", "20", "lights", "15.0 A"},
      {"200", "70", "15", "25", "first", "20.0 A"},  // the conductor is the multiwire's
  };
  for (const Row& row : kRows) {
    CAPTURE(row.subject);
    const DescribedAudit house =
        house_with(fmt::format(R"(
service = {{breaker_a = {}, conductor = "4/0 Al", length_ft = 10}}
circuit = [{{name = "lights", legs = ["L1"], breaker_a = {}, conductor = "14 Cu", length_ft = 10}},
           {{name = "first", legs = ["L1"], breaker_a = {}}}, {{name = "second", legs = ["L2"]}}]

[[multiwire]]
name = "shared"
circuits = ["first", "second"]
conductor = "12 Cu"
length_ft = 10
[[panel]]
name = "Main"
spaces = 8
[[panel]]
name = "Garage"
spaces = 4
fed_from = "Main"
breaker_a = {}
conductor = "6 Cu"
length_ft = 10
)",
                               row.service_a, row.circuit_a, row.multiwire_a, row.feeder_a));
    CHECK(lacks(house, "breaker beyond the conductor") == row.subject.empty());
    if (row.subject.empty()) continue;
    const WiringFinding finding = only_finding(house, "breaker beyond the conductor");
    CHECK(finding.severity == FindingSeverity::Danger);
    CHECK(finding.subject == row.subject);
    CHECK(says(finding, row.limit));
    // 4/0 aluminium: 180 A at 75 °C, 80 % of 225 A, where 83 % is asked for (310.12).
    if (row.subject == "service") CHECK(says(finding, "180 A is 80.0 % of the breaker's rating"));
    CHECK(!finding.source.empty());
  }
}

// Power of a resistance goes with the square: (120/240)² = 25 %, (240/120)² = 400 %.
TEST_CASE("findings: a load on a voltage that is not its own") {
  struct Row {
    std::string_view at;
    double nameplate_volts;
    std::string_view power;  // "": no finding
    FindingSeverity severity;
  };
  const Row kRows[] = {
      {"one pole", 240, "25.0 %", FindingSeverity::Caution},
      {"two poles", 120, "400 %", FindingSeverity::Danger},
      {"one pole", 120, "", {}},
      {"one pole", 110, "", {}},  // other names for the same voltage
      {"two poles", 220, "", {}},
      {"two poles", 230, "", {}},
      {"one pole", 100, "144 %", FindingSeverity::Danger},
  };
  for (const Row& row : kRows) {
    CAPTURE(row.at);
    CAPTURE(row.nameplate_volts);
    const DescribedAudit house = house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "one pole", legs = ["L1"]}},
           {{name = "two poles", legs = ["L1", "L2"], poles = 2}}]
load = [{{name = "heater", at = "{}", watts = 1000, volts = {}}}]
)",
                                                        row.at, row.nameplate_volts));
    CHECK(lacks(house, "load on another voltage") == row.power.empty());
    if (row.power.empty()) continue;
    const WiringFinding finding = only_finding(house, "load on another voltage");
    CHECK(finding.severity == row.severity);
    CHECK(finding.subject == "heater");
    CHECK(says(finding, row.power));
  }
}

// Supplies marked 100-240 V take 264 V, by the data sheets of two (load-kinds.toml).
TEST_CASE("findings: a load for a range of volts is on none that is not its own") {
  struct Row {
    std::string_view keys;
    bool found;
  };
  const Row kRows[] = {
      {"volts = 100", true},
      {"volts = 100, kind = \"laptop charger\"", false},
      {"volts = 240, kind = \"phone charger\"", false},
      {"volts = 100, max_volts = 264", false},
      {"volts = 100, max_volts = 115", true},
      {"volts = 100, kind = \"laptop charger\", max_volts = 115", true},
      {"volts = 240, max_volts = 264", true},  // says nothing of too few volts
  };
  for (const Row& row : kRows) {
    CAPTURE(row.keys);
    const DescribedAudit house = house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "desk", legs = ["L1"]}}]
load = [{{name = "charger", at = "desk", watts = 60, {}}}]
)",
                                                        row.keys));
    CHECK(lacks(house, "load on another voltage") == !row.found);
  }
}

// Limits: 3 % in the branch circuit, 5 % with the feeder (NEC 210.19(A), informational note). Each
// row is a series circuit on 120 V; ohms are of each conductor, so they count twice.
TEST_CASE("findings: voltage drop") {
  struct Row {
    double feeder_ohms, circuit_ohms, load_ohms;
    std::string_view volts, branch, total;  // "": no finding
    std::string_view subject;               // the load, or the panel where the way there loses it
  };
  const Row kRows[] = {
      // 20 ohm, 6 A: 6 V in the circuit, 5 % from either panel.
      {0, 0.5, 19, "114 V", "5.0 % lost from its panel", "5.0 % from the first panel", "heater"},
      // 20 ohm, 6 A: 4.8 V in the feeder and 2.4 V in the circuit: 2 % and 6 %.
      {0.4, 0.2, 18.8, "113 V", "2.0 % lost from its panel", "6.0 % from the first panel",
       "Garage"},
      // 24 ohm, 5 A: 3 V in the circuit, 2.5 %.
      {0, 0.3, 23.4, "", "", "", ""},
      // 24 ohm, 5 A: 2 V in the feeder and 3 V in the circuit: 2.5 % and 4.2 %.
      {0.2, 0.3, 23, "", "", "", ""},
  };
  for (const Row& row : kRows) {
    CAPTURE(row.feeder_ohms);
    CAPTURE(row.circuit_ohms);
    const auto house = [&](bool on) {
      return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}},
         {{name = "Garage", spaces = 4, fed_from = "Main", hot_ohms = {}}}]
circuit = [{{name = "heat", panel = "Garage", legs = ["L2"], hot_ohms = {}}}]
load = [{{name = "heater", at = "heat", ohms = {}, on = {}}}]
)",
                                    row.feeder_ohms, row.circuit_ohms, row.load_ohms, on));
    };
    CHECK(lacks(house(false), "voltage drop"));
    CHECK(lacks(house(true), "voltage drop") == row.volts.empty());
    if (row.volts.empty()) continue;
    const WiringFinding finding = only_finding(house(true), "voltage drop");
    CHECK(finding.severity == FindingSeverity::Note);
    CHECK(finding.subject == row.subject);
    CHECK(says(finding, row.volts));
    CHECK(says(finding, row.branch));
    CHECK(says(finding, row.total));
  }
}

// 38 ohm twice behind 0.5 ohm in each conductor: 6 A and 114 V for both, 5 %.
TEST_CASE("findings: loads of one cable share one finding of voltage drop") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "heat", legs = ["L1"], hot_ohms = 0.5}]
load = [{name = "one", at = "heat", ohms = 38}, {name = "two", at = "heat", ohms = 38}]
)");
  const WiringFinding finding = only_finding(house, "voltage drop");
  CHECK(says(finding, "114 V"));
  CHECK(says(finding, "the worst of 2 loads on this cable"));
  CHECK(cites(finding, "8-102"));
  CHECK(cites(finding, "210.19(A) and 215.2(A), informational notes"));
}

// 12 ohm on each of four circuits, two on each leg, 0.4 ohm in each hot of the feeder: 6 ohm a leg,
// balanced, so that the neutral carries nothing: 120 · 6/6.4 = 112.5 V, 6.25 % lost on the way.
TEST_CASE("findings: loss in a feeder is one finding for its panel") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8},
         {name = "Barn", spaces = 8, fed_from = "Main", hot_ohms = 0.4}]
circuit = [{name = "c1", panel = "Barn", legs = ["L1"]},
           {name = "c2", panel = "Barn", legs = ["L2"]},
           {name = "c3", panel = "Barn", legs = ["L1"]},
           {name = "c4", panel = "Barn", legs = ["L2"]}]
load = [{name = "h1", at = "c1", ohms = 12}, {name = "h2", at = "c2", ohms = 12},
        {name = "h3", at = "c3", ohms = 12}, {name = "h4", at = "c4", ohms = 12}]
)");
  const WiringFinding finding = only_finding(house, "voltage drop");
  CHECK(finding.subject == "Barn");
  CHECK(says(finding, "0.0 % lost from its panel and 6.2 % from the first panel"));
  CHECK(says(finding, "the worst of 4 loads of this panel"));
}

TEST_CASE("findings: a house that was found in a state which is not credible") {
  struct Row {
    std::string_view heater, cooler;  // keys of two loads of 10 A and 8 A on one 15 A circuit
    std::string_view words;           // "": no finding
  };
  const Row kRows[] = {
      {"", ", on = false", ""},
      {"", "", ""},  // 18 A on 15 A has a finding of its own
      {", switching = \"always off\"", ", on = false", "on as found, though it is never on"},
      {", on = false, switching = \"always on\"", ", on = false",
       "off as found, though it is always on"},
      {", noncoincident = \"either\"", ", on = false, noncoincident = \"either\"", ""},
  };
  for (const Row& row : kRows) {
    CAPTURE(row.words);
    const DescribedAudit house = house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "air", legs = ["L1"], breaker_a = 15}}]
load = [{{name = "heater", at = "air", amps = 10{}}},
        {{name = "cooler", at = "air", amps = 8{}}}]
)",
                                                        row.heater, row.cooler));
    CHECK(lacks(house, "as found is not credible") == row.words.empty());
    if (row.words.empty()) continue;
    const WiringFinding finding = only_finding(house, "as found is not credible");
    CHECK(finding.severity == FindingSeverity::Note);
    CHECK(says(finding, row.words));
  }
}

TEST_CASE("findings: two loads on together, as found, that exclude each other") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "one", legs = ["L1"]}, {name = "two", legs = ["L2"]}]
load = [{name = "heater", at = "one", amps = 5, noncoincident = "heat or cool"},
        {name = "cooler", at = "two", amps = 5, noncoincident = "heat or cool"}]
)");
  const WiringFinding finding = only_finding(house, "as found is not credible");
  CHECK(says(finding, "\"heater\" and \"cooler\" are on together"));
}

TEST_CASE("findings: dangers come first, then cautions, then notes") {
  // Same leg (danger), no common disconnect (caution), joints not recorded (note).
  const DescribedAudit house = house_with(multiwire(5, 6, "L1", ", common_disconnect = false"));
  REQUIRE(house.audit.findings.size() == 3);
  CHECK(house.audit.findings[0].severity == FindingSeverity::Danger);
  CHECK(house.audit.findings[1].severity == FindingSeverity::Caution);
  CHECK(house.audit.findings[2].severity == FindingSeverity::Note);
}

// 14 AWG copper behind a 20 A breaker, though the circuit's first run is 12 AWG (NEC 240.4(D)).
TEST_CASE("findings: a thinner conductor further out is looked at too") {
  const auto with = [](std::string_view far) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 4}}]
circuit = [{{name = "den", space = 1, breaker_a = 20, conductor = "12 Cu", length_ft = 10}}]
outlet = [{{name = "near", on = "den", length_ft = 5}},
          {{name = "far", on = "den", conductor = "{}", length_ft = 5}}]
)",
                                  far));
  };
  CHECK(says(only_finding(with("14 Cu"), "breaker beyond the conductor"), "15.0 A"));
  CHECK(lacks(with("12 Cu"), "breaker beyond the conductor"));
}

// Two boxes on one neutral, 1 ft each (0.002 ohm): the second length is thinner. 19 - 1 = 18 A as
// found on 15 A (14 AWG copper, NEC 240.4(D)), 120 %; the first length has 20 A. The amperes are
// those of the nameplates to 0.1 A.
TEST_CASE("findings: a neutral is looked at length by length") {
  const auto with = [](std::string_view far, std::string_view breaker,
                       std::string_view leg = "L2") {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "first", legs = ["L1"]{}}}, {{name = "second", legs = ["{}"]{}}}]
multiwire = [{{name = "shared", circuits = ["first", "second"], common_disconnect = true,
              neutral_joint = "spliced", conductor = "12 Cu", length_ft = 1}}]
outlet = [{{name = "near", on = "shared", conductor = "12 Cu", length_ft = 1}},
          {{name = "far", on = "shared", {}, length_ft = 1}}]
load = [{{name = "one", at = "far", circuit = "first", amps = 19}},
        {{name = "two", at = "far", circuit = "second", amps = 1}}]
)",
                                  breaker, leg, breaker, far));
  };
  constexpr std::string_view kRule = "neutral beyond its ampacity";
  constexpr std::string_view kThin = R"(conductor = "14 Cu")";
  constexpr std::string_view kThinNeutral = R"(conductor = "12 Cu", neutral = "14 Cu")";
  constexpr std::string_view kBreaker = ", breaker_a = 20";
  for (std::string_view far : {kThin, kThinNeutral}) {
    const WiringFinding finding = only_finding(with(far, ""), kRule);
    CHECK(finding.severity == FindingSeverity::Danger);
    CHECK(finding.subject == "shared");
    CHECK(says(finding, "The shared neutral into \"far\" carries 18.0 A as found"));
    CHECK(says(finding, "its ampacity is 15.0 A"));
  }
  CHECK(lacks(with(R"(conductor = "12 Cu")", ""), kRule));
  // One cause, one finding: the breakers are too large for hots and neutral alike, once for both.
  const DescribedAudit breakers = with(kThin, kBreaker);
  CHECK(lacks(breakers, kRule));
  const WiringFinding both = only_finding(breakers, "breaker beyond the conductor");
  CHECK(both.subject == "shared");
  CHECK(says(both, "\"first\" and \"second\" have 20.0 A breakers on 14 Cu"));
  CHECK(!lacks(with(kThinNeutral, kBreaker), kRule));
  CHECK(says(only_finding(with(kThin, "", "L1"), "same-leg multiwire"),
             "the least ampacity along it is 15.0 A"));
}

// 133 % of 15 A, in the second length only.
TEST_CASE("findings: a neutral that gets smaller further out than its breaker") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "den", legs = ["L1"], breaker_a = 20, conductor = "12 Cu", length_ft = 5}]
outlet = [{name = "near", on = "den", conductor = "12 Cu", length_ft = 5},
          {name = "far", on = "den", conductor = "12 Cu", neutral = "14 Cu", length_ft = 5}]
)");
  const WiringFinding finding = only_finding(house, "neutral smaller than its breaker");
  CHECK(finding.subject == "den");
  CHECK(says(finding, "The neutral into \"far\" is 14 Cu"));
  CHECK(says(finding, "133 % of its ampacity"));
}

// Table 310.12 is for single-phase dwelling services: 100 A on 4 AWG copper. Elsewhere its 85 A at
// 75 °C go up to the next standard rating, 90 A (table 310.16 and 240.6(A), from memory).
TEST_CASE("findings: the table of dwelling services is not for three phases") {
  const auto on = [](std::string_view system) {
    return house_with(R"(
service = {breaker_a = 100, conductor = "4 Cu", length_ft = 20}
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "first", legs = ["L1"]}]
)",
                      fmt::format("system = \"{}\"", system));
  };
  constexpr std::string_view kRule = "breaker beyond the conductor";
  CHECK(lacks(on("120/240 split-phase"), kRule));
  CHECK(lacks(on("120/208 two-leg"), kRule));
  const WiringFinding finding = only_finding(on("120/208 wye"), kRule);
  CHECK(says(finding, "usually limited to 90.0 A"));
  CHECK_FALSE(says(finding, "83 %"));
}

}  // namespace
}  // namespace evenleg
