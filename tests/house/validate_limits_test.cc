// Houses at their limits are taken, and one step beyond them refused with a sentence.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/house/limits.h"
#include "tests/house/sound_house.h"

namespace evenleg {
namespace {

using namespace sound_house;

// One fault of that kind, at the first entry too many, which tells how many there are.
void check_refused(const House& house, const std::string& kind, std::size_t most) {
  const std::vector<HouseFault> faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].subject.kind == kind);
  CHECK(faults[0].subject.index == static_cast<int>(most));
  CHECK(faults[0].what ==
        fmt::format("there are {} entries of this kind, and a house may have at most {}", most + 1,
                    most));
  CHECK_FALSE(faults[0].remedy.empty());
}

template <class Record>
void check_most(std::vector<Record> House::*records, const std::string& kind, std::size_t most,
                const std::function<Record(std::size_t)>& made) {
  CAPTURE(kind);
  House house = sound();
  for (std::size_t i = 0; (house.*records).size() < most; ++i) (house.*records).push_back(made(i));
  for (const HouseFault& fault : validate(house, words())) {
    CHECK(fault.what.find("a house may have at most") == std::string::npos);
  }
  (house.*records).push_back(made(most));
  check_refused(house, kind, most);
}

TEST_CASE("validate: a house has no more of a kind than can be worked out") {
  const auto name = [](std::size_t i) { return fmt::format("more {}", i); };
  check_most<Load>(&House::loads, "load", kMostLoads,
                   [&](std::size_t i) { return load(name(i), "Counter left"); });
  check_most<Outlet>(&House::outlets, "outlet", kMostOutlets,
                     [&](std::size_t i) { return outlet(name(i), "Counter left"); });
  check_most<Circuit>(&House::circuits, "circuit", kMostCircuits,
                      [&](std::size_t i) { return circuit(name(i), 1); });
  check_most<Panel>(&House::panels, "panel", kMostPanels, [&](std::size_t i) {
    Panel panel;
    panel.name = name(i);
    panel.spaces = 2;
    panel.fed_from = "Main";
    return panel;
  });
  check_most<Reading>(&House::readings, "reading", kMostReadings, [](std::size_t) {
    Reading reading;
    reading.at = "Main";
    reading.l1_n_volts = 120;
    return reading;
  });
  check_most<Scenario>(&House::scenarios, "scenario", kMostScenarios, [&](std::size_t i) {
    Scenario scenario;
    scenario.name = name(i);
    return scenario;
  });
  check_most<SiteFinding>(&House::findings, "finding", kMostFindings, [](std::size_t) {
    SiteFinding finding;
    finding.observation = "warm";
    return finding;
  });
  check_most<Multiwire>(&House::multiwires, "multiwire", kMostMultiwires, [&](std::size_t i) {
    Multiwire multiwire;
    multiwire.name = name(i);
    return multiwire;
  });
}

TEST_CASE("validate: panels are fed through no more feeders than can be followed") {
  House house = sound();
  for (std::size_t deep = 1; deep <= kMostFeedersDeep + 2; ++deep) {
    Panel panel;
    panel.name = fmt::format("deep {}", deep);
    panel.spaces = 4;
    panel.fed_from = deep == 1 ? house.panels[0].name : fmt::format("deep {}", deep - 1);
    house.panels.push_back(panel);
    const std::vector<HouseFault> faults = validate(house, words());
    CAPTURE(deep);
    REQUIRE(faults.size() == (deep > kMostFeedersDeep ? 1 : 0));
    if (faults.empty()) continue;
    CHECK(faults[0].what ==
          "it is fed through 7 feeders, one after the other, and at most 6 can be followed");
  }
}

TEST_CASE("validate: a multiwire has no more outlets than its neutral can be opened at") {
  House house = sound();
  REQUIRE_FALSE(house.multiwires.empty());
  const std::string shared = house.multiwires[0].name;
  const auto on_it = [&] { return std::ranges::count(house.outlets, shared, &Outlet::on); };
  while (on_it() < static_cast<std::ptrdiff_t>(kMostOutletsOfMultiwire)) {
    house.outlets.push_back(outlet(fmt::format("box {}", house.outlets.size()), shared));
  }
  CHECK(validate(house, words()).empty());
  house.outlets.push_back(outlet("one more", shared));
  const std::vector<HouseFault> faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].what == fmt::format("\"{}\" has more than 40 outlets", shared));
}

}  // namespace
}  // namespace evenleg
