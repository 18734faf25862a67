// A service calculation as text and as JSON: form and keys. Its figures are held in tests/balance
// and tests/published; those below are of NEC Annex D, D1(a).
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/demand_json.h"
#include "evenleg/report/demand_text.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Load across(const std::string& name, const std::string& kind, double watts) {
  Load load;
  load.name = name;
  load.at = "Both";
  load.kind = kind;
  load.watts = watts;
  return load;
}

// D1(a): 1500 square feet, a range of 12 kW, a dryer of 5.5 kW.
House annex_d1a(const std::string& range = "Range") {
  House house;
  house.about["name"] = "Annex D";
  house.supply.system = "120/240 split-phase";
  house.service.emplace().breaker_a = 100;
  house.dwelling.emplace().floor_area_ft2 = 1500;
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 4;
  house.circuits.resize(1);
  house.circuits[0].name = "Both";
  house.circuits[0].legs = {"L1", "L2"};
  house.circuits[0].poles = 2;
  house.loads = {across(range, "range", 12000), across("Dryer", "clothes dryer", 5500)};
  return house;
}

TEST_CASE("demand text: the answer, the rules with their sources, the caution") {
  const House house = annex_d1a();
  const Tables tables = load_tables();
  const std::string text = demand_text(house, demand(house, tables, {"standard", 2017, {}}));
  for (const char* part : {"18600 VA, 78 A (77.5) together", "Its neutral: 61 A (60.6)",
                           "table 220.55", "22.0 A, 5280 VA, are left", "read: at source",
                           "not an approval", "authority having jurisdiction"}) {
    CAPTURE(part);
    CHECK(text.find(part) != std::string::npos);
  }
}

TEST_CASE("demand text: no line is longer than the page, whatever the names") {
  const House house = annex_d1a(
      "A range whose name somebody made as long as a name can be, with "
      "all of its parts, its maker and the day that it was bought");
  const Tables tables = load_tables();
  for (const char* method : {"standard", "optional", "existing", "canadian"}) {
    CAPTURE(method);
    std::istringstream lines(demand_text(house, demand(house, tables, {method, {}, {}})));
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(columns(line) <= kPageColumns);
    }
  }
}

TEST_CASE("demand json: the public keys and what they hold") {
  const House house = annex_d1a();
  const Tables tables = load_tables();
  const Json json = Json::parse(demand_json(house, demand(house, tables, {"standard", 2017, {}})));
  CHECK(json["format"] == 1);
  CHECK(json["house"] == "Annex D");
  CHECK(json["method"] == "standard");
  CHECK(json["edition"] == 2017);
  CHECK(json["edition_asked_for"] == true);
  CHECK(json["load"] == 18600.0);
  CHECK(json["amps"] == 77.5);
  CHECK(json["compared_amps"] == 78.0);
  CHECK(json["steps"].size() == 6);
  CHECK(json["steps"][3]["rule"] == "lighting demand");
  CHECK(json["steps"][3]["total"] == 5100.0);
  CHECK(json["steps"][3]["replaces_total"] == true);
  CHECK(json["by_line"][0]["legs"][1]["leg"] == "L2");
  CHECK(json["neutral"]["va"] == 14550.0);
  CHECK(json["neutral"]["whole_amps"] == 61.0);
  CHECK(json["limits"][0]["of"] == "service");
  CHECK(json["limits"][0]["source"] == nullptr);
  CHECK(json["spare_amps"] == 22.0);
  CHECK(json["loads"][0]["demand"] == "range");
  CHECK(json["loads"][0]["counted"] == true);
  const Json canadian =
      Json::parse(demand_json(house, demand(house, tables, {"canadian", {}, {}})));
  CHECK(canadian["edition_asked_for"] == false);
  CHECK(canadian["neutral"]["va"] == nullptr);
  CHECK(canadian["next_rating_amps"] == nullptr);
}

}  // namespace
}  // namespace evenleg
