// Rules of the supply and of volts in normal operation. Closed forms on ideal sources.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "tests/audit/one_fault.h"

namespace evenleg {
namespace {

// A load on each leg, of watts at nominal volts.
std::string on_two_legs(double first_watts, double second_watts, std::string_view panel_keys = "") {
  return fmt::format(R"(
panel = [{{name = "Main", spaces = 8{}}}]
circuit = [{{name = "first", legs = ["L1"]}}, {{name = "second", legs = ["L2"]}}]
load = [{{name = "one", at = "first", watts = {}}}, {{name = "two", at = "second", watts = {}}}]
)",
                     panel_keys, first_watts, second_watts);
}

DescribedAudit supplied(double volts) {
  return house_with(on_two_legs(100, 100),
                    fmt::format(R"(system = "120/240 split-phase", volts = {})", volts));
}

// ANSI C84.1 service range A 114 to 126 V, range B 110 to 127 V; CSA C235 normal 110 to 125 V,
// extreme 106 to 127 V (second hand).
TEST_CASE("findings: leg volts beyond the limits of the place") {
  constexpr std::string_view kRule = "leg volts beyond the limits";
  const WiringFinding high = only_finding(supplied(128), kRule);
  CHECK(high.severity == FindingSeverity::Caution);
  CHECK(says(high, "L1 at 128 V and L2 at 128 V"));
  CHECK(says(high, "114 to 126 V (United States, service, range A)"));
  CHECK(only_finding(supplied(126.5), kRule).severity == FindingSeverity::Note);
  CHECK(only_finding(supplied(109), kRule).severity == FindingSeverity::Caution);
  CHECK(lacks(supplied(114), kRule));
  CHECK(lacks(supplied(125), kRule));
}

// Loops of 0.29 ohm each in feeder and circuit and 10.92 ohm: 11.5 ohm, 10 A from 115 V, so 109.2 V
// at the load, 2.4 % lost in each part. ANSI C84.1 of 1995 and 2006 has 110 V there for lighting
// (from memory). From 116 V it is 110.2 V.
TEST_CASE("findings: volts at the point of use beyond the limits for it") {
  constexpr std::string_view kRule = "utilization volts beyond the limits";
  const auto from = [](double volts) {
    return house_with(R"(
panel = [{name = "Main", spaces = 8},
         {name = "Garage", spaces = 4, fed_from = "Main", hot_ohms = 0.145}]
circuit = [{name = "heat", panel = "Garage", legs = ["L2"], hot_ohms = 0.145}]
load = [{name = "heater", at = "heat", ohms = 10.92}]
)",
                      fmt::format(R"(system = "120/240 split-phase", volts = {})", volts));
  };
  const WiringFinding finding = only_finding(from(115), kRule);
  CHECK(finding.severity == FindingSeverity::Note);
  CHECK(says(finding, "\"heater\" has 109 V"));
  CHECK(says(finding,
             "110 to 125 V (United States, utilization, range A, 1995 and 2006, circuits "
             "with lighting)"));
  CHECK(lacks(from(116), kRule));
  CHECK(lacks(from(128), kRule));  // the legs themselves are beyond theirs
}

// 130 V is more than 129 V and no more than 130 V.
TEST_CASE("findings: a load past what it withstands with all neutrals sound") {
  constexpr std::string_view kRule = "load above what it withstands";
  const auto with = [](double max_volts, std::string_view more) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "first", legs = ["L1"]}}]
load = [{{name = "lamp", at = "first", watts = 60, max_volts = {}{}}}]
)",
                                  max_volts, more),
                      R"(system = "120/240 split-phase", volts = 130)");
  };
  const WiringFinding finding = only_finding(with(119, ""), kRule);
  CHECK(finding.severity == FindingSeverity::Danger);
  CHECK(says(finding, "\"lamp\" has 130 V; it is taken to withstand 119 V"));
  CHECK(lacks(with(119, ", on = false"), kRule));
  // Fit for 120 V, it is past its limit by the legs, which are told with it once.
  constexpr std::string_view kLegs = "leg volts beyond the limits";
  CHECK(lacks(with(129, ""), kRule));
  const WiringFinding legs = only_finding(with(129, ""), kLegs);
  CHECK(legs.severity == FindingSeverity::Danger);
  CHECK(says(legs,
             "One load is past what it withstands with every neutral sound: \"lamp\" has 130 "
             "V and is taken to withstand 129 V."));
  CHECK(only_finding(with(130, ""), kLegs).severity == FindingSeverity::Caution);
  CHECK(lacks(with(100, ", volts = 100"), kRule));  // a nameplate of another voltage, told as such
}

// 10 A and 10 A at 120 degrees: sqrt(100 + 100 - 100) = 10 A on the neutral. NEC 310.15(E)(2).
TEST_CASE("findings: two legs of a wye on one neutral") {
  constexpr std::string_view kRule = "legs of a wye do not cancel";
  const WiringFinding two =
      only_finding(house_with(on_two_legs(1200, 1200), R"(system = "120/208 two-leg")"), kRule);
  CHECK(two.severity == FindingSeverity::Note);
  CHECK(says(two, "The service neutral carries 10.0 A as found"));
  CHECK(says(two, "the loads from each leg to neutral take 10.0 and 10.0 A"));
  // A load between the legs, 30 A, is in neither figure.
  const DescribedAudit with_range = house_with(R"(
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "first", legs = ["L1"]}, {name = "second", legs = ["L2"]},
           {name = "cooking", legs = ["L1", "L2"], poles = 2}]
load = [{name = "one", at = "first", watts = 1200}, {name = "two", at = "second", watts = 600},
        {name = "range", at = "cooking", amps = 30}]
)",
                                               R"(system = "120/208 two-leg")");
  CHECK(says(only_finding(with_range, kRule),
             "the loads from each leg to neutral take 10.0 and 5.00 A"));
  CHECK(cites(two, "310.15(E)(2) (2020 and 2023)"));
  CHECK(cites(two, "310.15(B)(5)(b) (2011 to 2017)"));
  CHECK(lacks(house_with(on_two_legs(1200, 1200)), kRule));
  const auto wye = [](std::string_view circuits) {
    return house_with(fmt::format(R"(
panel = [{{name = "Main", spaces = 8}}]
circuit = [{{name = "a", legs = ["L1"]}}, {{name = "b", legs = ["L2"]}},
           {{name = "c", legs = ["L3"]}}]
multiwire = [{{name = "shared", common_disconnect = true, neutral_joint = "spliced",
              circuits = [{}]}}]
load = [{{name = "one", at = "a", amps = 10}}, {{name = "two", at = "b", amps = 10}}]
)",
                                  circuits),
                      R"(system = "120/208 wye")");
  };
  CHECK(
      says(only_finding(wye(R"("a", "b")"), kRule),
           "The shared neutral of \"shared\" carries 10.0 A as found and up to 10.0 A beside 10.0 "
           "and 10.0 A"));
  CHECK(lacks(wye(R"("a", "b", "c")"), kRule));
}

// 1000 W against 200 W on 100/200 V: 10 ohm and 50 ohm in series on 200 V, 166.7 V on the second.
TEST_CASE("findings: no device against a lost neutral where that is usual") {
  constexpr std::string_view kRule = "no neutral-loss device";
  constexpr std::string_view kJapan = R"(system = "100/200 split-phase")";
  const WiringFinding finding = only_finding(house_with(on_two_legs(1000, 200), kJapan), kRule);
  CHECK(finding.severity == FindingSeverity::Note);
  CHECK(says(finding, "\"two\" could see 167 V"));
  CHECK(cites(finding, "since 1995"));
  CHECK(
      lacks(house_with(on_two_legs(1000, 200, ", neutral_loss_trip_volts = 130"), kJapan), kRule));
  CHECK(lacks(house_with(on_two_legs(1000, 200)), kRule));
}

// JEAC 8001 1305-1: |1300 - 700| / (2000 / 2) = 60 %; |1200 - 800| / 1000 = 40 %.
TEST_CASE("findings: legs unbalanced beyond what the Japanese rule accepts") {
  constexpr std::string_view kRule = "legs unbalanced";
  constexpr std::string_view kJapan = R"(system = "100/200 split-phase")";
  CHECK(says(only_finding(house_with(on_two_legs(1300, 700), kJapan), kRule), "is 60.0 %"));
  CHECK(lacks(house_with(on_two_legs(1200, 800), kJapan), kRule));
  CHECK(lacks(house_with(on_two_legs(1300, 700)), kRule));
}

TEST_CASE("findings: a rule of another country is cited for comparison") {
  const auto on = [](std::string_view supply) {
    return only_finding(house_with(multiwire(5, 6, "L2", ", common_disconnect = false"), supply),
                        "no common disconnect");
  };
  CHECK(cites(on(R"(system = "230/400 wye")"), "for comparison"));
  CHECK_FALSE(cites(on(R"(system = "120/240 split-phase")"), "for comparison"));
}

}  // namespace
}  // namespace evenleg
