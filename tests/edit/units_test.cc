// A number is taken with the unit that its key has, and with no other.
#include <doctest/doctest.h>

#include "evenleg/base/error.h"
#include "evenleg/edit/edit.h"
#include "evenleg/house/house.h"

namespace evenleg {
namespace {

Circuit set(const std::string& key, const std::string& text) {
  House house;
  house.circuits.resize(1);
  house.circuits[0].name = "A";
  apply({Verb::Set, "circuit", "A", {{key, {text}}}, {}}, house);
  return house.circuits[0];
}

Load set_load(const std::string& key, const std::string& text) {
  House house;
  house.loads.resize(1);
  house.loads[0].name = "A";
  apply({Verb::Set, "load", "A", {{key, {text}}}, {}}, house);
  return house.loads[0];
}

TEST_CASE("amperes, feet and metres") {
  CHECK(set("breaker_a", "20 A").breaker_a == 20);
  CHECK(set("breaker_a", "20a").breaker_a == 20);
  CHECK(set("breaker_a", "20 amps").breaker_a == 20);
  CHECK(set("length_ft", "45 ft").run.length_ft == 45);
  CHECK(set("length_ft", "45.5'").run.length_ft == 45.5);
  CHECK(set("length_m", "12 m").run.length_m == 12);
  CHECK(set("measured_amps", "250 mA").measured_amps == 0.25);
}

TEST_CASE("watts, volt-amperes, volts, ohms and horsepower") {
  CHECK(set_load("watts", "1500 W").watts == 1500);
  CHECK(set_load("watts", "4.1 kW").watts == 4100);  // and not 4099.999999999999
  CHECK(set_load("va", "1.5 kVA").va == 1500);
  CHECK(set_load("volts", "240 V").volts == 240);
  CHECK(set_load("ohms", "16 \u03a9").ohms == 16);
  CHECK(set_load("ohms", "16 ohms").ohms == 16);
  CHECK(set_load("horsepower", "0.5 hp").horsepower == 0.5);
  CHECK(set_load("watts", " 1500\tW ").watts == 1500);
}

// By the SI's prefixes: m is a thousandth, M a million.
TEST_CASE("a capital prefix is another prefix") {
  CHECK(set("hot_ohms", "20 m\u03a9").run.hot_ohms == 0.02);
  CHECK(set_load("ohms", "0.1 M\u03a9").ohms == 100000);
  CHECK(set_load("ohms", "0.1 Mohm").ohms == 100000);
  CHECK(set_load("ohms", "0.1 megohm").ohms == 100000);
  CHECK(set_load("ohms", "10 k\u2126").ohms == 10000);
  CHECK_THROWS_AS((void)set("measured_amps", "5 MA"), Error);
  CHECK_THROWS_AS((void)set_load("volts", "5 MV"), Error);
}

TEST_CASE("another unit, a unit alone and two numbers are refused") {
  CHECK_THROWS_AS((void)set("breaker_a", "20 ft"), Error);
  CHECK_THROWS_AS((void)set("breaker_a", "A"), Error);
  CHECK_THROWS_AS((void)set("breaker_a", "20 20"), Error);
  CHECK_THROWS_AS((void)set("breaker_a", "20 AA"), Error);
  CHECK_THROWS_AS((void)set("length_ft", "45 m"), Error);
  CHECK_THROWS_AS((void)set("poles", "2 A"), Error);
  CHECK_THROWS_AS((void)set_load("volts", "12-14 V"), Error);
  CHECK_THROWS_AS((void)set_load("watts", "1.5 kVA"), Error);
  CHECK_THROWS_AS((void)set_load("watts", "1,500 W"), Error);
  CHECK_THROWS_AS((void)set_load("watts", "4e1 kW"), Error);
  CHECK_THROWS_AS((void)set_load("watts", "5 MW"), Error);
}

}  // namespace
}  // namespace evenleg
