#include "src/diagnose/intake.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

bool hears(const FreeText& visit, const std::string& fact) {
  static const Tables tables = load_tables();
  const auto facts = facts_heard(visit, tables.symptoms);
  return std::any_of(facts.begin(), facts.end(),
                     [&](const FactHeard& one) { return one.fact == fact; });
}

TEST_CASE("facts are heard as whole words, without regard to case") {
  CHECK(hears({{"complaint", "The lights DIM when I cook"}}, "dims"));
  CHECK_FALSE(hears({{"complaint", "There is a dimmer in the hall"}}, "dims"));
  CHECK(hears({{"complaint", "some dim, others brighten"}}, "some dim while others brighten"));
  CHECK(hears({{"light", "dim"}, {"complaint", "also much brighter"}},
              "some dim while others brighten"));
}

TEST_CASE("a no before the word counts, and only in its own clause") {
  CHECK_FALSE(hears({{"complaint", "they never brighten"}}, "brightens"));
  CHECK_FALSE(hears({{"complaint", "lights do not get brighter"}}, "brightens"));
  CHECK(hears({{"complaint", "no smell, but lights brighten"}}, "brightens"));
  CHECK(hears({{"complaint", "it doesn't matter what runs; all lights brighten"}}, "brightens"));
}

TEST_CASE("the key is part of the answer") {
  CHECK(hears({{"neighbours", "yes"}}, "neighbours as well"));
  CHECK(hears({{"neighbours", "No, not asked for"}}, "this house only"));
  CHECK_FALSE(hears({{"neighbours", "no"}}, "neighbours as well"));
}

TEST_CASE("everyday words that only look like a fact") {
  CHECK_FALSE(hears({{"complaint", "both bedrooms"}}, "some dim while others brighten"));
  CHECK(hears({{"light", "both"}}, "some dim while others brighten"));
  CHECK_FALSE(hears({{"complaint", "I am worried"}}, "set hours"));
  CHECK_FALSE(hears({{"complaint", "we replaced bulbs"}}, "device changed"));
  CHECK(hears({{"recent_work", "replaced a dimmer"}}, "device changed"));
  CHECK_FALSE(hears({{"complaint", "a weak light in the hall"}}, "weak 240 V"));
  CHECK_FALSE(hears({{"complaint", "the fridge is fine"}}, "motor starts"));
  CHECK(hears({{"follows", "fridge"}}, "motor starts"));
}

TEST_CASE("fields of the record are no answers") {
  CHECK(hears({{"complaint", "in gusty wind"}}, "weather"));
  CHECK_FALSE(hears({{"weather", "gusty wind"}}, "weather"));
  CHECK_FALSE(hears({{"client", "Mrs. Bright"}}, "brightens"));
}

}  // namespace
}  // namespace evenleg
