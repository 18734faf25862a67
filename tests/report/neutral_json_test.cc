#include "evenleg/report/neutral_json.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/check.h"
#include "tests/report/sample_neutral.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json json_of(const SampleNeutral& sample) {
  return Json::parse(neutral_json(sample.house, sample.tables, sample.depth));
}

double value(const Json& number) { return number.get<double>(); }

}  // namespace

// Expected figures are those worked out in sample_neutral.h.
TEST_CASE("neutral json: the public keys and what they hold") {
  const Json json = json_of(sample_neutral());
  CHECK(json["format"] == 1);
  CHECK(json["house"] == "Fernhill Cottage");
  CHECK(json["place"] == "service");
  CHECK(json["kind"] == "service");
  CHECK(json["sound_ohms"] == 0.1);
  CHECK(matches_printed(value(json["limit_ohms"]), "1.070732"));
  CHECK(json["limit_load"] == "Reading lamp");
  CHECK(json["limit_volts"] == 132.0);
  CHECK(json["limit_on"] == Json{"Kettle", "Reading lamp"});
  CHECK(json["limit_proven"] == true);
  CHECK(matches_printed(value(json["limit_over_sound"]), "10.70732"));
  CHECK(matches_printed(value(json["low_limit_ohms"]), "8.081818"));
  CHECK(json["low_limit_load"] == "Kettle");
  CHECK(json["low_limit_volts"] == 66.0);
  CHECK(json["low_limit_on"] == Json{"Kettle"});
  CHECK(json["low_limit_proven"] == true);
  CHECK(json["certified"] == true);
  CHECK(json["scenario"].is_null());
  CHECK(json["behaviour"].empty());
  CHECK(json["caution"].is_string());
  CHECK(json["curve"].size() == 4);
}

TEST_CASE("neutral json: a point of the curve") {
  const Json point = json_of(sample_neutral())["curve"][1];
  CHECK(matches_printed(value(point["ohms"]), "1.070732"));
  REQUIRE(point["legs"].size() == 2);
  CHECK(point["legs"][0]["leg"] == "L1");
  CHECK(matches_printed(value(point["legs"][0]["volts"]), "108.0"));
  CHECK(matches_printed(value(point["legs"][1]["volts"]), "132.0"));
  CHECK(point["legs"][0].size() == 2);
  CHECK(matches_printed(value(point["highest_volts"]), "132.0"));
  CHECK(point["highest_load"] == "Reading lamp");
  // The kettle alone: 120 * 10 / 11.170732.
  CHECK(matches_printed(value(point["lowest_volts"]), "107.42"));
  CHECK(point["lowest_load"] == "Kettle");
  CHECK(point["proven"] == true);
  CHECK(matches_printed(value(point["neutral_shift_volts"]), "12.000"));
  CHECK(matches_printed(value(point["amps"]), "10.250"));
  CHECK(matches_printed(value(point["heat_watts"]), "112.49"));
  CHECK(matches_printed(value(point["highest_heat_watts"]), "123.56"));
  CHECK(point["highest_heat_on"] == Json{"Kettle"});
  CHECK(point["outlets"][1] ==
        Json{{"outlet", "Snug"}, {"legs", "L2-N"}, {"as_found_volts", point["legs"][1]["volts"]}});
  CHECK(point["loads"][1]["load"] == "Reading lamp");
  CHECK(point["loads"][1]["outlet"] == "Snug");
  CHECK(point["loads"][1]["proven"] == true);
  // The kettle alone lifts the empty outlet by 120 * 1.170732 / 11.170732 = 12.576 V.
  CHECK(point["empty_outlets"][0]["outlet"] == "Spare");
  CHECK(matches_printed(value(point["empty_outlets"][0]["highest_volts"]), "132.576"));
}

TEST_CASE("neutral json: removed, the ohms are null and nothing flows") {
  const Json point = json_of(sample_neutral())["curve"][3];
  CHECK(point["ohms"].is_null());
  CHECK(matches_printed(value(point["highest_volts"]), "230.4"));
  CHECK(point["amps"] == 0.0);
  CHECK(point["heat_watts"] == 0.0);
  CHECK(point["highest_heat_watts"].is_null());
}

TEST_CASE("neutral json: what does not exist is null") {
  SampleNeutral sample = sample_neutral();
  sample.depth.high.reset();
  sample.depth.low.reset();
  Json json = json_of(sample);
  for (const char* key : {"limit_ohms", "limit_load", "limit_volts", "limit_over_sound",
                          "low_limit_ohms", "low_limit_load", "low_limit_volts"}) {
    CAPTURE(key);
    CHECK(json.contains(key));
    CHECK(json[key].is_null());
  }
  CHECK(json["limit_proven"].is_null());
  CHECK(json["limit_on"].empty());
  sample = sample_neutral();
  sample.depth.sound = ohms(0);
  CHECK(json_of(sample)["limit_over_sound"].is_null());
  sample.depth.curve[0].highest = {};
  sample.depth.curve[0].lowest_load = -1;
  CHECK(json_of(sample)["curve"][0]["highest_volts"].is_null());
  CHECK(json_of(sample)["curve"][0]["lowest_load"].is_null());
}

TEST_CASE("neutral json: without proof it says so, and keeps bounds") {
  SampleNeutral sample = sample_neutral();
  sample.depth.certified = false;
  sample.depth.high->proven = false;
  Extreme<Volts>& highest = *sample.depth.curve[1].loads[1].highest;
  highest.proven = false;
  highest.bound = volts(140);
  sample.depth.curve[1].highest = highest;
  const Json json = json_of(sample);
  CHECK(json["certified"] == false);
  CHECK(json["limit_proven"] == false);
  CHECK(json["curve"][1]["proven"] == false);
  CHECK(json["curve"][1]["loads"][1]["highest_bound"] == 140.0);
  CHECK(json["curve"][0]["proven"] == true);
}

}  // namespace evenleg
