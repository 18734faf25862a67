#include "tests/network/random_house.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "evenleg/house/validate.h"
#include "evenleg/house/wiring.h"
#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

constexpr std::uint64_t kHouses = 1000;

TEST_CASE("random house: every house is valid") {
  const Vocabulary words = vocabulary(load_tables());
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    const House house = random_house(seed);
    for (const HouseFault& fault : validate(house, words)) {
      FAIL_CHECK(described(fault.subject, house) << ": " << fault.what);
    }
  }
}

TEST_CASE("random house: the same seed gives the same house, another another") {
  CHECK(random_house(1) == random_house(1));
  CHECK_FALSE(random_house(1) == random_house(2));
}

// What the houses are for: each construction occurs, so that no test passes for want of it.
TEST_CASE("random house: every construction occurs") {
  const Vocabulary words = vocabulary(load_tables());
  std::set<std::string> seen;
  const auto note = [&](bool found, const std::string& what) {
    if (found) seen.insert(what);
  };
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    const House house = random_house(seed);
    const Wiring wiring = wire(house, *find_system(words, house.supply.system));
    seen.insert(house.supply.system);
    note(house.supply.transformer.has_value(), "transformer");
    note(house.service.has_value() && !house.service->earth_return_ohms, "no earth return");
    note(house.service && house.service->earth_return_ohms, "earth return");
    note(!house.service, "no service run");
    for (const WiredPanel& panel : wiring.panels) {
      note(panel.fed_from > 0, "panel behind two feeders");
      note(panel.legs.size() < wiring.system.legs.size(), "partial feeder");
    }
    for (const Cable& cable : wiring.cables) {
      if (cable.multiwire < 0) continue;
      note(cable.circuits.size() == 3, "multiwire of three");
      note(cable.hots.front().panel != cable.hots.back().panel, "multiwire from two panels");
      note(cable.hots.front().leg == cable.hots.back().leg, "multiwire on one leg");
    }
    for (const Outlet& outlet : house.outlets) {
      if (!outlet.after) continue;
      const auto before = std::find_if(house.outlets.begin(), house.outlets.end(),
                                       [&](const Outlet& o) { return o.name == *outlet.after; });
      note(before->on != outlet.on, "circuit continues from its multiwire");
    }
    for (std::size_t l = 0; l < house.loads.size(); ++l) {
      const WiredLoad& wired = wiring.loads[l];
      const bool two_poles = wiring.cables[static_cast<std::size_t>(wired.cable)].multiwire < 0 &&
                             wiring.cables[static_cast<std::size_t>(wired.cable)].hots.size() > 1;
      note(two_poles && wired.to == kNeutral, "L-N on two poles");
      note(two_poles && wired.to != kNeutral, "L-L on two poles");
      note(wired.circuits.size() == 2 && wired.circuits[0] != wired.circuits[1],
           "load between two circuits");
      note(house.loads[l].leading, "leading");
      note(house.loads[l].measured_amps.has_value(), "measured");
      note(house.loads[l].switching == "always on", "always on");
      note(house.loads[l].noncoincident.has_value(), "noncoincident");
    }
  }
  for (const std::string& system : every_supply_system()) CHECK(seen.count(system) == 1);
  for (const std::string what :
       {"transformer", "no earth return", "earth return", "no service run",
        "panel behind two feeders", "partial feeder", "multiwire of three",
        "multiwire from two panels", "multiwire on one leg", "circuit continues from its multiwire",
        "L-N on two poles", "L-L on two poles", "load between two circuits", "leading", "measured",
        "always on", "noncoincident"}) {
    CAPTURE(what);
    CHECK(seen.count(what) == 1);
  }
}

}  // namespace
}  // namespace evenleg
