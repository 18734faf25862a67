// The keys of `diagnose --json`, on readings made by hand: 120 V, hots of 0.05 ohm, a neutral of
// 0.35 of which the described run accounts for 0.05; 10 A on L1, on L2, on both.
#include "evenleg/report/diagnose_json.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "evenleg/describe/describe.h"
#include "tests/check.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kHouse = R"(
format = 1
house = {name = "Heron Cabin"}
supply = {system = "120/240 split-phase"}
service = {hot_ohms = 0.05, neutral_ohms = 0.05, breaker_a = 60}
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "Galley", space = 1, breaker_a = 20}, {name = "Bunks", space = 3, breaker_a = 20}]
outlet = [{name = "Worktop", on = "Galley"}, {name = "Top bunk", on = "Bunks"}]
load = [{name = "Kettle", at = "Worktop", kind = "heating", watts = 1440},
        {name = "Reading lamp", at = "Top bunk", watts = 60}]
reading = [
  {at = "Main", l1_n_volts = 120.0, l2_n_volts = 120.0, l1_l2_volts = 240.0},
  {at = "Main", l1_n_volts = 116.0, l2_n_volts = 123.5, l1_l2_volts = 239.5, l1_amps = 10, l2_amps = 0},
  {at = "Main", l1_n_volts = 123.5, l2_n_volts = 116.0, l1_l2_volts = 239.5, l1_amps = 0, l2_amps = 10},
  {at = "Main", l1_n_volts = 119.5, l2_n_volts = 119.5, l1_l2_volts = 239.0, l1_amps = 10, l2_amps = 10},
]
)";

TEST_CASE("diagnose --json has the keys that are promised") {
  const Tables tables = load_tables();
  const House house = read_description(kHouse, "house", vocabulary(tables));
  const Diagnosis diagnosis = diagnose(house, tables);
  const Audit beside = audit(house, tables);
  const Json json = diagnose_json({house, tables, diagnosis, &beside, nullptr, false});
  CHECK(json.at("format") == 1);
  CHECK(json.at("house") == "Heron Cabin");
  CHECK(json.at("model") == "three-wire");
  CHECK(close(json.at("source_volts"), 120, 1e-6));
  CHECK(json.at("place") == "Main");
  const Json& conductors = json.at("conductors");
  REQUIRE(conductors.size() == 3);
  CHECK(conductors[0].at("conductor") == "L1");
  CHECK(close(conductors[0].at("ohms"), 0.05, 1e-6));
  CHECK(conductors[2].at("conductor") == "N");
  CHECK(close(conductors[2].at("ohms"), 0.35, 1e-6));
  CHECK(conductors[2].at("standard_error") > 0);
  CHECK(json.at("expected_ohms").at("N") == 0.05);
  CHECK(json.at("verdict") == "consistent with a loose or open service neutral");
  CHECK(json.at("readings_used") == 4);
  CHECK(json.at("residual_volts") < 1e-6);
  CHECK(json.at("sections")[0].at("from").is_null());
  CHECK(json.at("sections")[0].at("conductors")[2].at("stands_out") == true);
  CHECK(json.at("missing").empty());
  CHECK(json.at("patterns")[0].at("pattern") == "service neutral");
  CHECK_FALSE(json.at("patterns")[0].at("for").empty());
  // By hand: kettle 10 ohm, lamp 240 ohm. Its neutral carries most with the kettle alone: 120 V
  // over 10 and 0.1 ohm, 11.88 A; 0.3 ohm of excess at that are 42.3 W.
  const Json& heat = json.at("if_it_opened")[0];
  CHECK(heat.at("place") == "service");
  CHECK(matches_printed(heat.at("highest_amps").get<double>(), "11.88"));
  CHECK(matches_printed(heat.at("watts").get<double>(), "42.3"));
  CHECK(heat.at("loads_past_their_limit") == 1);
  CHECK(json.at("log").is_null());
  CHECK_FALSE(json.at("caution").get<std::string>().empty());
}

TEST_CASE("a house without readings has the same keys, empty") {
  const Tables tables = load_tables();
  const House house = read_description(
      "format = 1\nhouse = {name = \"E\"}\nsupply = {system = \"120/240 split-phase\"}\n"
      "panel = [{name = \"Main\", spaces = 8}]\n",
      "house", vocabulary(tables));
  const Diagnosis diagnosis = diagnose(house, tables);
  const Json json = diagnose_json({house, tables, diagnosis, nullptr, nullptr, false});
  CHECK(json.at("source_volts").is_null());
  CHECK(json.at("place").is_null());
  CHECK(json.at("conductors").empty());
  CHECK(json.at("expected_ohms").empty());
  CHECK(json.at("patterns").empty());
  CHECK(json.at("next_reading").is_null());
}

}  // namespace
}  // namespace evenleg
