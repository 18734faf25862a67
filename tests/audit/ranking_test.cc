// A cabin small enough to work out by hand: its audit, and what is ranked how.
//
// Ideal wires at 120/240 V. Kettle 10 ohm on L1, lamp 240 ohm on L2, nothing in the spare outlet on
// L1. With the service neutral open the two are in series across 240 V.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// `panel`, `kettle` and `lamp` are more keys of those; `more` are whole loads.
std::string heron_cabin(std::string_view panel = "", std::string_view kettle = "",
                        std::string_view lamp = "", std::string_view more = "") {
  return fmt::format(R"(
format = 1
house = {{name = "Heron Cabin"}}
supply = {{system = "120/240 split-phase"}}
panel = [{{name = "Main", spaces = 8{}}}]
circuit = [{{name = "Counter", legs = ["L1"], breaker_a = 15}}, {{name = "Lights", legs = ["L2"]}}]
outlet = [{{name = "Spare", on = "Counter"}}]
load = [{{name = "Kettle", at = "Counter", ohms = 10{}}},
        {{name = "Lamp", at = "Lights", ohms = 240{}}}{}]
)",
                     panel, kettle, lamp, more);
}

const RankRow* rank_of(const DescribedAudit& house, std::string_view load) {
  const auto& rows = house.audit.ranking;
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const RankRow& row) { return row.load == house.load(load); });
  return found == rows.end() ? nullptr : &*found;
}

TEST_CASE("Heron Cabin as found") {
  // 120 V / 10 ohm = 12 A, 120 V / 240 ohm = 0.5 A, in opposition 11.5 A in the neutral.
  const DescribedAudit house = audit_of(heron_cabin());
  REQUIRE(house.audit.status == SolveStatus::Solved);
  REQUIRE(house.audit.legs.size() == 2);
  CHECK(house.audit.legs[0].leg == "L1");
  CHECK(matches_printed(house.audit.legs[0].amps, "12.0"));
  CHECK(matches_printed(house.audit.legs[1].amps, "0.5"));
  CHECK(matches_printed(house.audit.legs[0].volts, "120"));
  CHECK(matches_printed(house.audit.legs[1].volts, "120"));
  REQUIRE(house.audit.loads.size() == 2);
  CHECK(matches_printed(house.audit.loads[0].amps, "12.0"));
  CHECK(matches_printed(house.audit.loads[1].amps, "0.5"));
  const NeutralRow& service = house.neutral("service");
  CHECK(matches_printed(service.amps, "11.5"));
  // Most with the kettle alone.
  REQUIRE(service.highest);
  CHECK(matches_printed(service.highest->value, "12.0"));
  CHECK(service.highest->on == std::vector<int>{house.load("Kettle")});
}

TEST_CASE("Heron Cabin with the service neutral open") {
  // 240 V / 250 ohm = 0.96 A: 9.6 V across the kettle, 230.4 V across the lamp; the neutral lies at
  // 120 V - 9.6 V = 110.4 V. Either load alone has no way back, so no current and 0 V.
  const DescribedAudit house = audit_of(heron_cabin());
  REQUIRE(house.audit.open_neutral.size() == 1);
  CHECK(matches_printed(house.open("service").neutral_shift, "110.4"));
  CHECK(!house.open("service").protected_by);
  const LoadExtremes& lamp = house.extremes("service", "Lamp");
  REQUIRE((lamp.as_found && lamp.highest && lamp.lowest));
  CHECK(matches_printed(*lamp.as_found, "230.4"));
  CHECK(matches_printed(lamp.highest->value, "230.4"));
  CHECK(lamp.highest->proven);
  CHECK(lamp.highest->on == std::vector<int>{0, 1});
  CHECK(matches_printed(lamp.lowest->value, "0.0"));
  const LoadExtremes& kettle = house.extremes("service", "Kettle");
  REQUIRE((kettle.as_found && kettle.highest && kettle.lowest));
  CHECK(matches_printed(*kettle.as_found, "9.6"));
  CHECK(matches_printed(kettle.highest->value, "9.6"));
  CHECK(matches_printed(kettle.lowest->value, "0.0"));
}

TEST_CASE("Heron Cabin's spare outlet with the service neutral open") {
  // The lamp alone holds the neutral at L2: 240 V from L1. The kettle alone holds it at L1: 0 V.
  const DescribedAudit house = audit_of(heron_cabin());
  REQUIRE(house.open("service").outlets.size() == 1);
  const OutletExtremes& spare = house.open("service").outlets.front();
  CHECK(house.house.outlets[static_cast<std::size_t>(spare.outlet)].name == "Spare");
  CHECK(spare.legs == "L1-N");
  REQUIRE((spare.highest && spare.lowest));
  CHECK(matches_printed(spare.highest->value, "240"));
  CHECK(spare.highest->on == std::vector<int>{house.load("Lamp")});
  CHECK(matches_printed(spare.lowest->value, "0"));
}

TEST_CASE("ranking: volts over what the load withstands, worst first") {
  // A load with no figure of its own withstands 110 % of 120 V, 132 V (ITI curve, steady upper
  // limit): 230.4 / 132 = 1.745 and 9.6 / 132 = 0.073.
  const DescribedAudit house = audit_of(heron_cabin());
  REQUIRE(house.audit.ranking.size() == 2);
  const RankRow& first = house.audit.ranking[0];
  CHECK(first.load == house.load("Lamp"));
  CHECK(first.place == 0);
  CHECK(matches_printed(first.volts, "230.4"));
  CHECK(matches_printed(first.withstands, "132"));
  CHECK(matches_printed(first.over, "1.745"));
  CHECK(first.on == std::vector<int>{0, 1});
  CHECK(first.severity == "damage likely");
  CHECK(house.audit.ranking[1].load == house.load("Kettle"));
  CHECK(matches_printed(house.audit.ranking[1].over, "0.073"));
  CHECK(house.audit.ranking[1].severity == "no overvoltage");
}

TEST_CASE("ranking: max_volts goes before the kind's figure") {
  // 230.4 / 264 = 0.873; for the kettle 9.6 / 8 = 1.2, which is now the worst.
  const DescribedAudit house = audit_of(heron_cabin("", ", max_volts = 8", ", max_volts = 264"));
  REQUIRE(house.audit.ranking.size() == 2);
  CHECK(house.audit.ranking[0].load == house.load("Kettle"));
  CHECK(matches_printed(house.audit.ranking[0].withstands, "8"));
  CHECK(matches_printed(house.audit.ranking[0].over, "1.200"));
  CHECK(house.audit.ranking[0].severity == "damage likely");
  CHECK(matches_printed(house.audit.ranking[1].withstands, "264"));
  CHECK(matches_printed(house.audit.ranking[1].over, "0.873"));
  CHECK(house.audit.ranking[1].severity == "no overvoltage");
}

TEST_CASE("ranking: the place that is worst for a load") {
  // Beyond an open feeder neutral the bench lamp (240 ohm) is in series with the bench heater (40
  // ohm) only: 240 V x 240 / 280 = 205.714 V. With the service neutral open the kettle helps,
  // without the lamp of the house: 10 and 40 ohm together are 8, and 240 V x 240 / 248 = 232.258 V.
  const DescribedAudit house = audit_of(R"(
format = 1
house = {name = "Cabin and bench"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 8}, {name = "Shed", spaces = 4, fed_from = "Main"}]
circuit = [{name = "Counter", legs = ["L1"]}, {name = "Heat", panel = "Shed", legs = ["L1"]},
           {name = "Light", panel = "Shed", legs = ["L2"]}]
load = [{name = "Kettle", at = "Counter", ohms = 10}, {name = "Heater", at = "Heat", ohms = 40},
        {name = "Lamp", at = "Light", ohms = 240}]
)");
  REQUIRE(house.extremes("Shed", "Lamp").highest);
  CHECK(matches_printed(house.extremes("Shed", "Lamp").highest->value, "205.714"));
  const RankRow* lamp = rank_of(house, "Lamp");
  REQUIRE(lamp != nullptr);
  CHECK(house.audit.open_neutral[static_cast<std::size_t>(lamp->place)].place.name == "service");
  CHECK(matches_printed(lamp->volts, "232.258"));
}

TEST_CASE("ranking: loads that exclude each other are never on together") {
  // A heater of 30 ohm beside the kettle on another circuit of L1. Together they are 7.5 ohm and
  // the lamp has 240 V x 240 / 247.5 = 232.73 V; where only one of them runs it has 230.4 V at
  // most.
  constexpr std::string_view kHeater = R"(, {{name = "Heater", at = "Heat", ohms = 30{}}})";
  const auto cabin = [&](std::string_view group) {
    std::string text = heron_cabin("", group, "", fmt::format(fmt::runtime(kHeater), group));
    const std::string kLights = R"({name = "Lights")";
    return text.replace(text.find(kLights), kLights.size(),
                        R"({name = "Heat", legs = ["L1"]}, )" + kLights);
  };
  const DescribedAudit together = audit_of(cabin(""));
  REQUIRE(together.extremes("service", "Lamp").highest);
  CHECK(matches_printed(together.extremes("service", "Lamp").highest->value, "232.73"));
  const DescribedAudit apart = audit_of(cabin(R"(, noncoincident = "hot water or heat")"));
  const LoadExtremes& lamp = apart.extremes("service", "Lamp");
  REQUIRE((lamp.highest && lamp.as_found));
  CHECK(matches_printed(lamp.highest->value, "230.40"));
  CHECK(lamp.highest->on == std::vector<int>{apart.load("Kettle"), apart.load("Lamp")});
  // As found both run all the same; that is a finding, and what was found is still shown.
  CHECK(matches_printed(*lamp.as_found, "232.73"));
  CHECK(apart.findings("as found is not credible").size() == 1);
}

TEST_CASE("ranking: a load that no credible state can hold has no extremes and no rank") {
  // 120 V / 5 ohm = 24 A, beyond the counter's 15 A breaker; or a load that is never on.
  for (std::string_view keys : {", {name = \"Odd\", at = \"Counter\", ohms = 5}",
                                ", {name = \"Odd\", at = \"Counter\", ohms = 50, on = false, "
                                "switching = \"always off\"}"}) {
    CAPTURE(keys);
    const DescribedAudit house = audit_of(heron_cabin("", "", "", keys));
    const LoadExtremes& odd = house.extremes("service", "Odd");
    CHECK(!odd.highest);
    CHECK(!odd.lowest);
    CHECK(rank_of(house, "Odd") == nullptr);
    CHECK(house.audit.ranking.size() == 2);
    REQUIRE(house.extremes("service", "Lamp").highest);
    CHECK(matches_printed(house.extremes("service", "Lamp").highest->value, "230.4"));
  }
}

// A leg rises to 230.4 V with both loads on and to 240 V from
// the other leg with one load alone.
TEST_CASE("a neutral-loss device protects where some state reaches its volts") {
  const DescribedAudit at_135 = audit_of(heron_cabin(", neutral_loss_trip_volts = 135"));
  CHECK(at_135.open("service").protected_by == "Main");
  const DescribedAudit at_239 = audit_of(heron_cabin(", neutral_loss_trip_volts = 239"));
  CHECK(at_239.open("service").protected_by == "Main");
  const DescribedAudit at_241 = audit_of(heron_cabin(", neutral_loss_trip_volts = 241"));
  CHECK(!at_241.open("service").protected_by);
}

// Twenty loads on one circuit make more states than are listed. Ideal wires and plain resistances, so
// the answer is known all the same: the lamp of the other leg is worst with every one of them on, and
// each of them with nothing else of its own leg on. No bound is claimed.
TEST_CASE("ranking: a circuit with too many states still has every load's extremes, without proof") {
  std::string text = R"(
format = 1
house = {name = "Long hall"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 4}]
circuit = [{name = "hall", space = 1}, {name = "stove", space = 3}]
load = [{name = "lamp", at = "stove", watts = 60})";
  double sum = 0;
  for (int i = 0; i < 20; ++i) {
    const double watts = 10 + 7 * i;
    sum += watts;
    text += fmt::format(", {{name = \"hall {}\", at = \"hall\", watts = {}}}", i, watts);
  }
  const DescribedAudit house = audit_of(text + "]\n");
  const OpenNeutral& service = house.audit.open_neutral.front();
  REQUIRE(service.loads.size() == 21);
  // Conductances in the ratio of watts: V of a leg is 240 times the other leg's share.
  REQUIRE(service.loads[0].highest);
  CHECK(close(service.loads[0].highest->value.si(), 240 * sum / (sum + 60), 1e-6));
  for (std::size_t i = 0; i < 20; ++i) {
    CAPTURE(i);
    const LoadExtremes& load = service.loads[i + 1];
    REQUIRE(load.highest);
    const double watts = 10 + 7 * static_cast<double>(i);
    CHECK(close(load.highest->value.si(), 240 * 60.0 / (60 + watts), 1e-6));
    CHECK_FALSE(load.highest->proven);
    CHECK(std::isinf(load.highest->bound.si()));
  }
}

}  // namespace
}  // namespace evenleg
