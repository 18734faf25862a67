#include "evenleg/tables/patterns.h"

#include <doctest/doctest.h>

#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

TEST_CASE("the patterns are those of the grid, and a feeder's") {
  const SymptomTables symptoms = load_tables().symptoms;
  CHECK(symptoms.patterns.size() == 14);  // thirteen rows, and the feeder
  for (const SymptomPattern& pattern : symptoms.patterns) {
    CAPTURE(pattern.name);
    CHECK_FALSE(pattern.weighs.empty());
    CHECK_FALSE(pattern.source.empty());
  }
  CHECK(find_pattern(symptoms, "service neutral") != nullptr);
  CHECK(find_pattern(symptoms, "gremlins") == nullptr);
}

TEST_CASE("every fact of the answers speaks for or against some pattern") {
  const SymptomTables symptoms = load_tables().symptoms;
  for (const IntakeFact& fact : symptoms.facts) {
    CAPTURE(fact.name);
    bool weighed = false;
    for (const SymptomPattern& pattern : symptoms.patterns) {
      for (const FactWeight& weight : pattern.weighs) weighed = weighed || weight.fact == fact.name;
    }
    CHECK(weighed);
  }
}

TEST_CASE("every separating reading shows something different under some two patterns") {
  for (const SeparatingReading& reading : load_tables().symptoms.separating) {
    CAPTURE(reading.take);
    REQUIRE(reading.shows.size() > 1);
    bool differ = false;
    for (const auto& outcome : reading.shows)
      differ = differ || outcome.sees != reading.shows[0].sees;
    CHECK(differ);
  }
}

}  // namespace
}  // namespace evenleg
