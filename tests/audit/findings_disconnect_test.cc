// Rules of shared neutrals and their breakers: each on the smallest house where it applies, and on
// one beside it where it just does not. Figures are closed forms on ideal 120 V, worked in the
// comments.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "tests/audit/one_fault.h"

namespace evenleg {
namespace {

// A pair of 12 A and 5 A in two spaces; `first`, `second` are more keys of the circuits.
DescribedAudit pair_in(int first_space, int second_space, std::string_view keys,
                       std::string_view first = "", std::string_view second = "") {
  return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "first", space = {}{}}}, {{name = "second", space = {}{}}}]
multiwire = [{{name = "shared", neutral_joint = "spliced", circuits = ["first", "second"]{}}}]
load = [{{name = "load 1", at = "first", amps = 12}}, {{name = "load 2", at = "second", amps = 5}}]
)",
                                first_space, first, second_space, second, keys));
}

// 12 A against 5 A is 7 A on the neutral, and 17 A on one leg. NEC 210.4(B), since 2008 for each
// multiwire, before that where both circuits feed one yoke.
TEST_CASE("findings: what no common disconnect amounts to") {
  constexpr std::string_view kRule = "no common disconnect";
  const WiringFinding beside = only_finding(pair_in(1, 3, ", common_disconnect = false"), kRule);
  CHECK(beside.severity == FindingSeverity::Caution);
  CHECK(says(beside, "\"first\" still puts 12.0 A as found into the shared neutral"));
  CHECK(says(beside, "rises to 120 V"));
  CHECK(says(beside, "would carry 17.0 A as found in place of 7.00 A"));
  CHECK_FALSE(says(beside, "sit one above the other"));
  CHECK(says(beside, "Older work may have been allowed"));
  CHECK(cites(beside, "210.4(B), each multiwire circuit (2008 to 2023)"));
  CHECK(cites(beside, "one yoke (before 2008)"));
  // Spaces 1 and 4 are on two legs, but in two columns.
  CHECK(says(only_finding(pair_in(1, 4, ", common_disconnect = false"), kRule),
             "(spaces 1 and 4) do not sit one above the other"));
  // Breakers that stay where they are cannot be moved onto one leg.
  CHECK_FALSE(says(only_finding(pair_in(1, 3, "", ", locked = true", ", locked = true"), kRule),
                   "on one leg"));
}

// Handle ties reach the next space of the same column: 1 and 3, not 1 and 4 (NEC 240.15(B)).
TEST_CASE("findings: breakers that open together though they sit apart") {
  constexpr std::string_view kRule = "multiwire breakers apart";
  const WiringFinding apart = only_finding(pair_in(1, 4, ", common_disconnect = true"), kRule);
  CHECK(apart.severity == FindingSeverity::Caution);
  CHECK(says(apart, "spaces 1 and 4"));
  CHECK(cites(apart, "240.15(B)"));
  CHECK(lacks(pair_in(1, 3, ", common_disconnect = true"), kRule));
  CHECK(lacks(pair_in(1, 4, ", common_disconnect = false"), kRule));
}

// A sensing breaker on the 12 A side sees the 5 A of the other side as missing, and the other way
// round 12 A.
TEST_CASE("findings: ground-fault sensing on one side of a shared neutral") {
  constexpr std::string_view kRule = "protection on one side of a shared neutral";
  constexpr std::string_view kTied = ", common_disconnect = true";
  const auto keys = [](std::string_view name) {
    return fmt::format(", protection = \"{}\"", name);
  };
  const WiringFinding one = only_finding(pair_in(1, 3, kTied, keys("GFCI")), kRule);
  CHECK(one.severity == FindingSeverity::Caution);
  CHECK(says(one, "\"first\" (GFCI)"));
  CHECK(says(one, "(5.00 A as found)"));
  const WiringFinding both =
      only_finding(pair_in(1, 3, ", common_disconnect = false", keys("AFCI"), keys("AFCI")), kRule);
  CHECK(says(both, "(12.0 A as found)"));
  // May be one two-pole device.
  CHECK(lacks(pair_in(1, 3, kTied, keys("AFCI"), keys("AFCI")), kRule));
  CHECK(lacks(pair_in(1, 3, ", common_disconnect = false"), kRule));
}

// With leg 2 open, 240 ohm in series with 360 ohm on 120 V leaves 120 · 360/600 = 72 V on its hot;
// with leg 1 open, 120 ohm there leave 120 · 120/360 = 40 V. NEC 210.4(C), exceptions: one piece of
// equipment only, or a device that opens all hots.
TEST_CASE("findings: a load between the hots of a multiwire") {
  constexpr std::string_view kRule = "line-to-line load on a multiwire";
  const auto with = [](bool together, bool others) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "first", space = 1}}, {{name = "second", space = 3}}]
multiwire = [{{name = "shared", neutral_joint = "spliced", circuits = ["first", "second"],
              common_disconnect = {}}}]
outlet = [{{name = "box", on = "shared"}}]
load = [{{name = "heater", at = "box", connect = "L1-L2", ohms = 240}}{}]
)",
                                  together,
                                  others ? R"(,
        {name = "one", at = "first", ohms = 120}, {name = "two", at = "second", ohms = 360})"
                                         : ""));
  };
  const WiringFinding apart = only_finding(with(false, true), kRule);
  CHECK(apart.severity == FindingSeverity::Caution);
  CHECK(says(apart, "to 72.0 V with the loads to neutral on it as found, to 120 V with none"));
  CHECK(cites(apart, "210.4(C)"));
  CHECK(only_finding(with(true, true), kRule).severity == FindingSeverity::Note);
  CHECK(lacks(with(false, false), kRule));  // the only equipment on it
  CHECK(lacks(pair_in(1, 3, ""), kRule));
}

// 240 and 12 ohm in parallel, 1/240 + 1/12 S = 11.43 ohm, in series with 120 ohm: 120 · 120/131.43
// = 109.6 V. On a wye, 120 ohm from L3 to each of L1 and L2 at 120 degrees, 60 ohm to neutral: the
// sum of the two sources is 120 V, so (120/120) / (2/120 + 1/60) = 30 V on L3, and 60 V without the
// 60 ohm. L1 or L2 dead: 120 ohm from L3 alone, 120 V with nothing to neutral on it.
TEST_CASE("findings: several loads between the hots of a multiwire") {
  constexpr std::string_view kRule = "line-to-line load on a multiwire";
  const WiringFinding two = only_finding(house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "first", space = 1}, {name = "second", space = 3}]
multiwire = [{name = "shared", neutral_joint = "spliced", circuits = ["first", "second"]}]
outlet = [{name = "box", on = "shared"}]
load = [{name = "A", at = "box", connect = "L1-L2", ohms = 240},
        {name = "B", at = "box", connect = "L1-L2", ohms = 12},
        {name = "one", at = "first", ohms = 120}, {name = "two", at = "second", ohms = 120}]
)"),
                                         kRule);
  CHECK(says(two, "\"A\" and \"B\" run between hots"));
  CHECK(says(two, "through these loads: to 110 V with"));
  const WiringFinding wye = only_finding(house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "first", legs = ["L1"]}, {name = "second", legs = ["L2"]},
           {name = "third", legs = ["L3"]}]
multiwire = [{name = "shared", neutral_joint = "spliced", circuits = ["first", "second", "third"]}]
outlet = [{name = "box", on = "shared"}]
load = [{name = "A", at = "box", connect = "L1-L3", ohms = 120},
        {name = "B", at = "box", connect = "L2-L3", ohms = 120},
        {name = "one", at = "first", ohms = 7.5}, {name = "two", at = "second", ohms = 7.5},
        {name = "three", at = "third", ohms = 60}]
)",
                                                    R"(system = "120/208 wye")"),
                                         kRule);
  CHECK(says(wye, "to 30.0 V with the loads to neutral on it as found, to 120 V with none"));
}

// One multi-pole breaker opens and trips as one, and senses what its own neutral brings back.
TEST_CASE("findings: a multiwire that is one multi-pole circuit has one breaker") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "dryer", space = 1, poles = 2, protection = "GFCI"}]
multiwire = [{name = "laundry", neutral_joint = "spliced", circuits = ["dryer"]}]
load = [{name = "heater", at = "dryer", connect = "L1-L2", watts = 5000},
        {name = "drum", at = "dryer", connect = "L1-N", watts = 400}]
)");
  for (std::string_view rule :
       {"no common disconnect", "multiwire breakers apart", "line-to-line load on a multiwire",
        "protection on one side of a shared neutral"}) {
    CAPTURE(rule);
    CHECK(lacks(house, rule));
  }
}

// Spaces of different panels say nothing about one another; that they are two is a finding already.
TEST_CASE("findings: breakers of two panels are not judged by their spaces") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}, {name = "Garage", spaces = 8, fed_from = "Main"}]
circuit = [{name = "first", space = 1}, {name = "second", panel = "Garage", space = 3}]
multiwire = [{name = "shared", neutral_joint = "spliced", circuits = ["first", "second"],
             common_disconnect = true}]
load = [{name = "one", at = "first", amps = 12}, {name = "two", at = "second", amps = 5}]
)");
  CHECK(!lacks(house, "multiwire from two panels"));
  CHECK(lacks(house, "multiwire breakers apart"));
}

TEST_CASE("findings: other breakers and circuits are counted") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "a", legs = ["L1"], protection = "GFCI"}, {name = "b", legs = ["L2"]},
           {name = "c", legs = ["L3"]}]
multiwire = [{name = "shared", neutral_joint = "spliced", circuits = ["a", "b", "c"]}]
load = [{name = "one", at = "a", amps = 10}, {name = "two", at = "b", amps = 5},
        {name = "three", at = "c", amps = 5}]
)",
                                          R"(system = "120/208 wye")");
  CHECK(says(only_finding(house, "no common disconnect"), "With the other breakers off, \"a\""));
  const WiringFinding sensing = only_finding(house, "protection on one side of a shared neutral");
  CHECK(says(sensing,
             "is recorded with protection of its own, on a neutral shared with the other "
             "circuits"));
  CHECK(says(sensing, "a multi-pole device"));
}

// Space 1 is on L1 (legs alternate by row). As entered 12 and 5 A oppose; on one leg they add.
TEST_CASE("findings: a leg by hand that is not the leg of the space") {
  constexpr std::string_view kRule = "leg differs from the space";
  const WiringFinding tandem = only_finding(pair_in(1, 1, "", "", R"(, legs = ["L2"])"), kRule);
  CHECK(tandem.severity == FindingSeverity::Caution);
  CHECK(tandem.subject == "second");
  CHECK(says(tandem, "entered on leg L2, while its space 1 is on leg L1"));
  CHECK(says(tandem, "would carry 17.0 A as found in place of 7.00 A"));
  CHECK(lacks(pair_in(1, 1, "", "", R"(, legs = ["L1"])"), kRule));
  CHECK(lacks(pair_in(1, 3, ""), kRule));
  // Space 3 is on L2 and the next on L1: the same legs in another order.
  CHECK(lacks(house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "water", space = 3, poles = 2, legs = ["L1", "L2"]}]
load = [{name = "tank", at = "water", watts = 3000}]
)"),
              kRule));
}

// 6000 VA on 240 V: 25 A on both poles.
TEST_CASE("findings: a load beyond a two-pole breaker is told once") {
  const WiringFinding finding = only_finding(house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "water", space = 1, poles = 2, breaker_a = 20}]
load = [{name = "tank", at = "water", watts = 6000}]
)"),
                                             "load beyond the breaker");
  CHECK(says(finding, "carries 25.0 A by nameplate on legs L1 and L2"));
}

// 60 W is 240 ohm and 1500 W 9.6 ohm at 120 V; in series on 240 V the lamp has 240 · 240/249.6 =
// 230.77 V (standards table 5.1 of open neutrals: closed form).
TEST_CASE("findings: what a neutral through devices amounts to") {
  const DescribedAudit house = house_with(multiwire(
      0.5, 12.5, "L2", R"(, common_disconnect = true, neutral_joint = "through devices")"));
  const WiringFinding finding = only_finding(house, "neutral through devices");
  CHECK(says(finding, "\"load 1\" could see 231 V where it withstands 132 V"));
  CHECK(cites(finding, "300.13(B)"));
  CHECK(says(only_finding(house_with(multiwire(0.5, 12.5, "L1", ", common_disconnect = true")),
                          "neutral through devices"),
             "would go dead"));
}

// The same two loads on one two-pole circuit: 12.5 - 0.5 A on its neutral.
TEST_CASE("findings: what a two-pole circuit with a shared neutral amounts to") {
  const DescribedAudit house = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "range", space = 1, poles = 2}]
load = [{name = "clock", at = "range", connect = "L1-N", watts = 60},
        {name = "element", at = "range", connect = "L2-N", watts = 1500}]
)");
  const WiringFinding finding = only_finding(house, "multi-pole circuit shares a neutral");
  CHECK(says(finding, "its neutral carries 12.0 A as found"));
  CHECK(says(finding, "\"clock\" would see 231 V"));
}

// 14 AWG copper, 15 A, behind 20 A: 133 % (NEC 240.4(D)).
TEST_CASE("findings: a neutral smaller than a breaker that it serves") {
  constexpr std::string_view kRule = "neutral smaller than its breaker";
  const auto with = [](std::string_view neutral) {
    return house_with(multiwire(
        5, 6, "L2",
        fmt::format(R"(, common_disconnect = true, neutral_joint = "spliced", conductor = "12 Cu",
neutral = "{}", length_ft = 1)",
                    neutral)));
  };
  const WiringFinding finding = only_finding(with("14 Cu"), kRule);
  CHECK(finding.severity == FindingSeverity::Caution);
  CHECK(says(finding, "133 % of its ampacity"));
  CHECK(cites(finding, "240.4(D)"));
  CHECK(lacks(with("12 Cu"), kRule));
}

// 10 + 8 A on a 15 A breaker: 120 %.
TEST_CASE("findings: loads beyond a breaker, as found and always on") {
  constexpr std::string_view kRule = "load beyond the breaker";
  const auto with = [](std::string_view keys, int second_amps) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "air", legs = ["L1"], breaker_a = 15}}]
load = [{{name = "heater", at = "air", amps = 10{}}},
        {{name = "cooler", at = "air", amps = {}{}}}]
)",
                                  keys, second_amps, keys));
  };
  const WiringFinding found = only_finding(with("", 8), kRule);
  CHECK(found.severity == FindingSeverity::Caution);
  CHECK(found.subject == "air");
  CHECK(says(found, "carries 18.0 A by nameplate on leg L1, beyond its 15.0 A breaker as found"));
  CHECK(says(found, "At 120 % of its rating"));
  CHECK(says(only_finding(with(", switching = \"always on\"", 8), kRule), "always on"));
  CHECK(says(only_finding(with(", on = false, switching = \"always on\"", 8), kRule), "always on"));
  CHECK(lacks(with("", 5), kRule));
  CHECK(lacks(with(", on = false", 8), kRule));
}

}  // namespace
}  // namespace evenleg
