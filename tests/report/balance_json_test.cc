#include "evenleg/report/balance_json.h"

#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/report/sample_balance.h"

namespace evenleg {
namespace {

using Json = nlohmann::json;

Json json_of(const BalanceReport& report) { return Json::parse(balance_json(report)); }

}  // namespace

// The keys and their meanings are public; the figures are those worked out in sample_balance.h.
TEST_CASE("balance json: scenarios with their legs and their spread") {
  const SampleBalance sample = sample_balance();
  const Json json = json_of(sample.report());
  CHECK(json["format"] == 1);
  CHECK(json["house"] == "Five Loads");
  CHECK(json["spread_amps"] == 10.0);
  REQUIRE(json["scenarios"].size() == 2);
  const Json& found = json["scenarios"][0];
  CHECK(found["scenario"] == "as found");
  CHECK(found["legs"] == Json::parse(R"([{"leg":"L1","amps":16.0},{"leg":"L2","amps":8.0}])"));
  CHECK(found["spread_amps"] == 8.0);
  CHECK(found["imbalance_by_largest_percent"] == 50.0);
  CHECK(found["imbalance_by_mean_percent"].get<double>() == doctest::Approx(100.0 / 3));
  CHECK(found["imbalance_by_half_percent"].get<double>() == doctest::Approx(200.0 / 3));
  CHECK(found["panels"][0]["panel"] == "Main");
  CHECK(found["panels"][0]["spread_amps"] == 8.0);
}

TEST_CASE("balance json: a plan's moves name circuit, panel, spaces and legs") {
  const SampleBalance sample = sample_balance();
  const Json json = json_of(sample.report());
  REQUIRE(json["plans"].size() == 1);
  const Json& plan = json["plans"][0];
  CHECK(plan["moves"] == 1);
  CHECK(plan["spread_amps"] == 2.0);
  CHECK(plan["proven"] == true);
  CHECK(plan["moved"] ==
        Json::parse(R"([{"circuit":"Three","panel":"Main","from_space":5,"to_space":7,
                         "from_leg":"L1","to_leg":"L2","counted":true,"names_legs":false}])"));
  CHECK(plan["scenarios"][1]["legs"][0]["amps"] == 6.0);
  CHECK(plan["audit"].is_null());
  CHECK(json["complete"] == true);
  CHECK(json["searched_moves"] == 5);
  CHECK(json["fixed"] == Json::parse(R"([{"circuit":"Five","why":"locked"}])"));
  CHECK(json["measured"] == Json::parse(R"([{"circuit":"Two","amps":6.0}])"));
}

TEST_CASE("balance json: limits, what to shed, and what audits say") {
  const SampleBalance sample = sample_balance();
  BalanceReport report = sample.report();
  report.limits = {{0, 12, "as found", {16, 8}, 0, 4, {{0, -1, 0, 6, false}}, {10, 8}, true}};
  report.as_it_is = sample_figures();
  report.with_plan = {sample_figures()};
  const Json json = json_of(report);
  REQUIRE(json["limits"].size() == 1);
  const Json& limit = json["limits"][0];
  CHECK(limit["panel"] == "Main");
  CHECK(limit["leg"] == "L1");
  CHECK(limit["limit_amps"] == 12.0);
  CHECK(limit["over_amps"] == 4.0);
  CHECK(limit["shed"] == Json::parse(R"([{"load":"Load 1","circuit":null,"leg":"L1","amps":6.0,
                                          "always_on":false}])"));
  CHECK(limit["legs_left"][0]["amps"] == 10.0);
  CHECK(limit["fits"] == true);
  for (const Json& figures : {json["audit"], json["plans"][0]["audit"]}) {
    CHECK(figures["neutral_amps"] == 8.0);
    CHECK(figures["neutral_highest_amps"] == 16.0);
    CHECK(figures["neutral_highest_proven"] == true);
    CHECK(figures["loads"] == 5);
    CHECK(figures["loads_past"] == 2);
    CHECK(figures["worst"]["load"] == "Load 4");
    CHECK(figures["worst"]["over"] == 1.75);
  }
}

TEST_CASE("balance json: a figure that is not finite is null") {
  SampleBalance sample = sample_balance();
  sample.balance.plans[0].spread_amps = std::nan("");
  CHECK(json_of(sample.report())["plans"][0]["spread_amps"].is_null());
}

}  // namespace evenleg
