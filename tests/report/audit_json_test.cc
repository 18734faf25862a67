#include "evenleg/report/audit_json.h"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "tests/report/sample_audit.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json json_of(const SampleAudit& sample) {
  return Json::parse(audit_json(sample.house, sample.tables, sample.audit));
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

std::vector<std::string> first_keys(const Json& object, std::size_t count) {
  std::vector<std::string> keys = keys_of(object);
  keys.resize(std::min(count, keys.size()));
  return keys;
}

using Keys = std::vector<std::string>;

}  // namespace

// The keys and their order are those of the public output (README, "Output for programs").
TEST_CASE("audit json: keys stand in their public order, further ones after them") {
  const Json json = json_of(sample_audit());
  CHECK(first_keys(json, 7) ==
        Keys{"format", "house", "supply", "as_found", "open_neutral", "ranking", "findings"});
  CHECK(keys_of(json["as_found"]) == Keys{"legs", "neutrals", "loads"});
  CHECK(keys_of(json["as_found"]["legs"][0]) == Keys{"leg", "amps", "volts"});
  CHECK(first_keys(json["as_found"]["neutrals"][0], 6) ==
        Keys{"place", "amps", "highest_amps", "highest_on", "proven", "rated_amps"});
  CHECK(keys_of(json["as_found"]["loads"][0]) == Keys{"load", "outlet", "volts", "amps"});
  const Json& open = json["open_neutral"][1];
  CHECK(first_keys(open, 5) ==
        Keys{"place", "neutral_shift_volts", "protected_by", "loads", "outlets"});
  CHECK(keys_of(open["loads"][0]) == Keys{"load", "outlet", "as_found_volts", "highest_volts",
                                          "highest_on", "highest_bound", "lowest_volts",
                                          "lowest_on", "lowest_bound", "proven"});
  CHECK(first_keys(open["outlets"][0], 5) ==
        Keys{"outlet", "legs", "highest_volts", "lowest_volts", "proven"});
  CHECK(first_keys(json["ranking"][0], 8) ==
        Keys{"rank", "outlet", "load", "place", "volts", "over", "severity", "on"});
  CHECK(first_keys(json["findings"][0], 4) == Keys{"rule", "severity", "subject", "text"});
}

TEST_CASE("audit json: as found") {
  const Json json = json_of(sample_audit());
  CHECK(json["format"] == 1);
  CHECK(json["house"] == "Fernhill Cottage");
  CHECK(json["supply"] == Json{{"system", "120/240 split-phase"}, {"legs", {"L1", "L2"}}});
  const Json& found = json["as_found"];
  CHECK(found["legs"][1] == Json{{"leg", "L2"}, {"amps", 0.5}, {"volts", 120.0}});
  CHECK(found["loads"].size() == 2);  // the iron is off
  CHECK(found["loads"][1] ==
        Json{{"load", "Reading lamp"}, {"outlet", "Snug"}, {"volts", 120.0}, {"amps", 0.5}});
  const Json& service = found["neutrals"][0];
  CHECK(service["amps"] == 11.5);
  CHECK(service["highest_amps"] == 12.0);
  CHECK(service["highest_on"] == Json{"Kettle"});
  CHECK(service["proven"] == true);
  CHECK(service["rated_amps"].is_null());
  CHECK(service["earth_return_amps"] == 0.25);
  CHECK(found["neutrals"][1]["rated_amps"] == 20.0);
  CHECK_FALSE(found["neutrals"][1].contains("earth_return_amps"));
}

TEST_CASE("audit json: open neutrals and ranking") {
  const Json json = json_of(sample_audit());
  const Json& service = json["open_neutral"][0];
  CHECK(service["place"] == "service");
  CHECK(service["neutral_shift_volts"] == 110.4);
  CHECK(service["protected_by"].is_null());
  const Json& lamp = service["loads"][1];
  CHECK(lamp["as_found_volts"] == 230.4);
  CHECK(lamp["highest_volts"] == 230.4);
  CHECK(lamp["highest_on"] == Json{"Kettle", "Reading lamp"});
  CHECK(lamp["highest_bound"] == 230.4);
  CHECK(lamp["lowest_volts"] == 0.0);
  CHECK(lamp["lowest_on"] == Json{"Reading lamp"});
  CHECK(lamp["proven"] == true);
  CHECK(service["loads"][2]["as_found_volts"].is_null());  // the iron is off
  const Json& spare = json["open_neutral"][1]["outlets"][0];
  CHECK(spare["outlet"] == "Spare");
  CHECK(spare["legs"] == "L2-N");
  CHECK(spare["highest_volts"] == 240.0);
  CHECK(spare["proven"] == true);
  const Json& worst = json["ranking"][0];
  CHECK(worst["rank"] == 1);
  CHECK(worst["load"] == "Reading lamp");
  CHECK(worst["outlet"] == "Snug");
  CHECK(worst["place"] == "service");
  CHECK(worst["severity"] == "damage likely");
  CHECK(worst["withstands_volts"] == 132.0);
  CHECK(json["ranking"][2]["rank"] == 3);
  CHECK(json["findings"][1]["severity"] == "danger");
  CHECK(json["findings"][1]["observation"] == "");
  CHECK(json["certified"] == true);
}

TEST_CASE("audit json: the parts of a finding stand beside its whole text") {
  SampleAudit sample = sample_audit();
  sample.audit.findings[0].observation = "Not tied.";
  sample.audit.findings[0].implication = "One opens alone.";
  sample.audit.findings[0].recommendation = "Tie them.";
  const Json finding = json_of(sample)["findings"][0];
  CHECK(finding["observation"] == "Not tied.");
  CHECK(finding["implication"] == "One opens alone.");
  CHECK(finding["recommendation"] == "Tie them.");
  CHECK(finding["text"] == "Its breakers are not tied.");
  CHECK(finding["source"] == "A code");
}

TEST_CASE("audit json: what is absent is null, empty and not proven") {
  SampleAudit sample = sample_audit();
  LoadExtremes& lamp = sample.audit.open_neutral[0].loads[kLamp];
  lamp.highest.reset();
  lamp.lowest.reset();
  sample.audit.neutrals[0].highest.reset();
  const Json json = json_of(sample);
  const Json& row = json["open_neutral"][0]["loads"][kLamp];
  for (const char* key : {"highest_volts", "highest_bound", "lowest_volts", "lowest_bound"}) {
    CAPTURE(key);
    CHECK(row[key].is_null());
  }
  CHECK(row["highest_on"] == Json::array());
  CHECK(row["lowest_on"] == Json::array());
  CHECK(row["proven"] == false);
  const Json& service = json["as_found"]["neutrals"][0];
  CHECK(service["highest_amps"].is_null());
  CHECK(service["highest_on"] == Json::array());
  CHECK(service["proven"] == false);
}

TEST_CASE("audit json: one unproven extreme makes the load unproven") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].loads[kLamp].highest->proven = false;
  sample.audit.open_neutral[0].loads[kLamp].highest->bound = volts(240);
  const Json row = json_of(sample)["open_neutral"][0]["loads"][kLamp];
  CHECK(row["proven"] == false);
  CHECK(row["highest_bound"] == 240.0);
  CHECK(json_of(sample)["ranking"][0]["proven"] == false);
}

TEST_CASE("audit json: what is not finite is null") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].neutral_shift = volts(std::numeric_limits<double>::quiet_NaN());
  sample.audit.open_neutral[0].loads[kLamp].highest->bound =
      volts(std::numeric_limits<double>::infinity());
  const Json open = json_of(sample)["open_neutral"][0];
  CHECK(open["neutral_shift_volts"].is_null());
  CHECK(open["loads"][kLamp]["highest_bound"].is_null());
}

TEST_CASE("audit json: numbers keep all their digits") {
  SampleAudit sample = sample_audit();
  sample.audit.legs[0].volts = volts(119.87654321);
  CHECK(json_of(sample)["as_found"]["legs"][0]["volts"] == 119.87654321);
}

// The Unicode Standard, 3.9: a byte that starts no sequence is shown as U+FFFD.
TEST_CASE("audit json: names may hold anything, and broken UTF-8 does not stop it") {
  SampleAudit sample = sample_audit();
  sample.house.about["name"] = "Mühle \"am\\Bach\"\n\xFF";
  CHECK(json_of(sample)["house"] == "Mühle \"am\\Bach\"\n\xEF\xBF\xBD");
}

TEST_CASE("audit json: a protecting panel and the scenario are named") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].protected_by = "Main";
  sample.audit.certified = false;
  const Json json = Json::parse(audit_json(sample.house, sample.tables, sample.audit, "Evening"));
  CHECK(json["open_neutral"][0]["protected_by"] == "Main");
  CHECK(json["ranking"][0]["protected_by"] == "Main");
  CHECK(json["scenario"] == "Evening");
  CHECK(json["certified"] == false);
}

}  // namespace evenleg
