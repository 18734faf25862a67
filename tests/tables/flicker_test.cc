// Flicker between the points of the table and at the ends; the table and the formula themselves are
// in tests/published/flicker_table_test.cc.
#include "evenleg/tables/flicker.h"

#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/tables/tables.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-12;

// Straight in the logarithms: half way between 1 and 2 changes a minute is sqrt 2, and the change
// the root of the product of both ends, sqrt(2.724 x 2.211) = 2.4541 %.
TEST_CASE("flicker: between two points of the table") {
  const FlickerTables tables = load_tables().flicker;
  const auto between = change_for_pst_1(tables, FlickerLamp::V230, std::sqrt(2.0));
  REQUIRE(between.has_value());
  CHECK(close(*between, std::sqrt(2.724 * 2.211), kExact));
}

TEST_CASE("flicker: no answer outside the table's rates") {
  const FlickerTables tables = load_tables().flicker;
  CHECK_FALSE(change_for_pst_1(tables, FlickerLamp::V230, 0.099).has_value());
  CHECK(change_for_pst_1(tables, FlickerLamp::V230, 0.1).has_value());
  CHECK(change_for_pst_1(tables, FlickerLamp::V120, 2875).has_value());
  CHECK_FALSE(change_for_pst_1(tables, FlickerLamp::V120, 2876).has_value());
  CHECK_FALSE(pst_by_table(tables, FlickerLamp::V120, 3, 3000).has_value());
}

// At 1 change a minute 3.166 % give 1 on a 120 V lamp, so half of it gives 0.5, up or down.
TEST_CASE("flicker: Pst goes with the size of the change") {
  const FlickerTables tables = load_tables().flicker;
  CHECK(close(*pst_by_table(tables, FlickerLamp::V120, 1.583, 1), 0.5, kExact));
  CHECK(close(*pst_by_table(tables, FlickerLamp::V120, -1.583, 1), 0.5, kExact));
  CHECK(close(analytical_pst(2.0, 1), 2 * analytical_pst(1.0, 1), kExact));
}

TEST_CASE("flicker: the smallest change of each column") {
  const FlickerTables tables = load_tables().flicker;
  CHECK(least_change_for_pst_1(tables, FlickerLamp::V230) == 0.28);
  CHECK(least_change_for_pst_1(tables, FlickerLamp::V120) == 0.35);
}

TEST_CASE("flicker: the lamp of a supply system") {
  for (double volts : {100, 120, 127}) CHECK(lamp_for(volts) == FlickerLamp::V120);
  CHECK(lamp_for(230) == FlickerLamp::V230);
}

// An interval of ten minutes with a start has two changes, 0.2 a minute; 12 starts an hour are two
// in each interval, 0.4 a minute.
TEST_CASE("flicker: changes of a motor that starts so often an hour") {
  CHECK(close(changes_per_minute_of_starts(0.1), 0.2, kExact));
  CHECK(close(changes_per_minute_of_starts(6), 0.2, kExact));
  CHECK(close(changes_per_minute_of_starts(12), 0.4, kExact));
  CHECK(close(changes_per_minute_of_starts(60), 2, kExact));
}

// t_f = 2.3 s for a step of 1 %; a shape factor of 0.5 makes it that of a step of half the size.
TEST_CASE("flicker: impression time and shape factor") {
  CHECK(close(impression_seconds(1), 2.3, kExact));
  CHECK(close(impression_seconds(4, 0.5), impression_seconds(2), kExact));
  CHECK_FALSE(spaced_for_formula(60));
  CHECK(spaced_for_formula(59));
}

}  // namespace
}  // namespace evenleg
