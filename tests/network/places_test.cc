// Where a neutral can open: every neutral conductor that more than one leg uses.
#include "evenleg/network/places.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "tests/network/house_states.h"

namespace evenleg {
namespace {

Circuit circuit(const char* name, const char* leg) {
  Circuit made;
  made.name = name;
  made.legs = {leg};
  return made;
}

Outlet outlet(const char* name, const char* on, std::optional<std::string> after = std::nullopt) {
  return {name, on, std::move(after), {}};
}

// A kitchen multiwire: both hots reach "sink" and "window"; "left" continues from "sink" alone.
House kitchen(const char* second_leg) {
  House house;
  house.about["name"] = "A house by hand";
  house.supply.system = "120/240 split-phase";
  Panel main;
  main.name = "Main";
  main.spaces = 20;
  Panel garage = main;
  garage.name = "Garage";
  garage.fed_from = "Main";
  house.panels = {main, garage};
  house.circuits = {circuit("a", "L1"), circuit("b", second_leg), circuit("den", "L1")};
  Multiwire multiwire;
  multiwire.name = "Kitchen";
  multiwire.circuits = {"a", "b"};
  house.multiwires = {multiwire};
  house.outlets = {outlet("sink", "Kitchen"), outlet("window", "Kitchen"),
                   outlet("left", "a", "sink"), outlet("sofa", "den")};
  return house;
}

struct Named {
  std::string name;
  PlaceKind kind;
  bool operator==(const Named&) const = default;
};

std::vector<Named> named_places(const House& house) {
  std::vector<Named> named;
  for (const Place& place : built(house, load_tables()).places) {
    named.push_back({place.name, place.kind});
  }
  return named;
}

TEST_CASE("places: service, feeders, shared runs and their further lengths") {
  const std::vector<Named> expected = {
      {"service", PlaceKind::Service},     {"Garage", PlaceKind::Feeder},
      {"Kitchen", PlaceKind::SharedRun},   {"sink", PlaceKind::SharedLength},
      {"window", PlaceKind::SharedLength},
  };
  CHECK((named_places(kitchen("L2")) == expected));
}

TEST_CASE("places: both hots on one leg are no multiwire for this purpose") {
  const std::vector<Named> expected = {{"service", PlaceKind::Service},
                                       {"Garage", PlaceKind::Feeder}};
  CHECK((named_places(kitchen("L1")) == expected));
}

TEST_CASE("places: an ordinary house still has its service") {
  House house = kitchen("L2");
  house.panels.resize(1);
  house.multiwires.clear();
  house.outlets = {outlet("sofa", "den")};
  CHECK((named_places(house) == std::vector<Named>{{"service", PlaceKind::Service}}));
}

TEST_CASE("places: each names the conductor that it stands for") {
  const BuiltHouse house = built(kitchen("L2"), load_tables());
  for (const Place& place : house.places) {
    CAPTURE(place.name);
    if (!in_cable(place)) {
      CHECK(place.panel == (place.name == "Garage" ? 1 : 0));
      continue;
    }
    const Cable& cable = house.wiring.cables[static_cast<std::size_t>(place.cable)];
    const Box& box = cable.boxes[static_cast<std::size_t>(place.box)];
    CHECK(box.neutral_place == place.name);
    CHECK(box.hots == std::vector<int>{0, 1});
  }
}

}  // namespace
}  // namespace evenleg
