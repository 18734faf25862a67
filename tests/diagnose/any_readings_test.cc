// Any readings of any house: no crash, no number that is none, and never a word that a house is
// safe.
#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/diagnose/diagnose.h"
#include "evenleg/house/fields.h"
#include "evenleg/house/validate.h"
#include "tests/network/dice.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

Reading random_reading(const House& house, Dice& dice) {
  Reading reading;
  reading.at = !house.outlets.empty() && dice.chance(0.5) ? dice.pick(house.outlets).name
                                                          : dice.pick(house.panels).name;
  for (const Field<Reading>& field : fields_of<Reading>()) {
    if (field.type != FieldType::Number || dice.chance(0.6)) continue;
    // Ordinary volts, nothing, and what no house has.
    const double value = dice.chance(0.7) ? dice.between(110, 130) : dice.between(0, 1000);
    const bool small = field.key.find("accuracy") != std::string_view::npos;
    field.set(reading, small ? dice.between(0, 5) : (dice.chance(0.1) ? 0 : value));
  }
  reading.main_off = dice.chance(0.1);
  for (const Load& load : house.loads) {
    if (dice.chance(0.2)) reading.on.push_back(load.name);
  }
  if (dice.chance(0.2)) reading.label = "motor start";
  if (dice.chance(0.5)) reading.time = "2026-03-14T10:20:00";
  return reading;
}

TEST_CASE("any readings of any house") {
  const Tables tables = load_tables();
  const Vocabulary words = vocabulary(tables);
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    House house = random_house(seed);
    Dice dice(seed);
    for (int r = dice.whole(0, 8); r > 0; --r)
      house.readings.push_back(random_reading(house, dice));
    house.visit["complaint"] = "lights dim and brighten, no smell";
    REQUIRE(validate(house, words).empty());
    const Diagnosis diagnosis = diagnose(house, tables);
    CHECK(std::isfinite(diagnosis.estimation.residual_volts));
    for (const SectionEstimate& section : diagnosis.estimation.sections) {
      for (const ConductorEstimate& one : section.conductors) {
        CHECK(std::isfinite(one.ohms));
        CHECK(std::isfinite(one.standard_error));
      }
    }
    for (const PatternMatch& match : diagnosis.patterns) {
      CHECK(match.score >= 2);
      CHECK_FALSE(match.for_it.empty());
    }
    CHECK_FALSE(diagnosis.verdict.empty());
    CHECK(diagnosis.verdict.find("safe") == std::string::npos);
  }
}

}  // namespace
}  // namespace evenleg
