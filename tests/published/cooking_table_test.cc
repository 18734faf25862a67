// Source: NFPA 70, National Electrical Code, table 220.55 and its notes, and example D6 of Annex D;
// ten ranges of 14 kW from a trade magazine on the code of 2023. Kilowatts as printed.
#include <doctest/doctest.h>

#include "src/balance/demand_tables.h"
#include "tests/balance/described_demand.h"
#include "tests/check.h"

namespace evenleg {
namespace {

std::vector<double> ranges(int count, double kw, std::vector<double> more = {}) {
  more.insert(more.end(), static_cast<std::size_t>(count), kw * 1000);
  return more;
}

double demand_kw(const std::vector<double>& vas) {
  static const Tables kTables = load_tables();
  const DemandMethod* method = find_demand_method(kTables, "standard");
  REQUIRE(method != nullptr);
  return cooking_demand(demand_rule(*method, "cooking", 2023), vas).va / 1000;
}

TEST_CASE("table 220.55: published check values") {
  CHECK(matches_printed(demand_kw(ranges(1, 12)), "8"));
  CHECK(matches_printed(demand_kw(ranges(1, 14)), "8.8"));    // note 1: 8 x 1.10
  CHECK(matches_printed(demand_kw(ranges(10, 14)), "27.5"));  // 25 x 1.10
  CHECK(matches_printed(demand_kw(ranges(24, 16)), "46.8"));  // D6(A): 39 x 1.20
  // D6(B): 5 of 11, 2 of 12, 20 of 13.5 and 3 of 18 kW; average 13.6 with 12 as the least; 45 x
  // 1.10.
  CHECK(matches_printed(demand_kw(ranges(5, 11, ranges(2, 12, ranges(20, 13.5, ranges(3, 18))))),
                        "49.5"));
}

// By hand from the table: two of 3 kW, column A: 6 x 75 %; two of 5 kW, column B: 10 x 65 %; one of
// each, both columns: 3 x 80 % + 5 x 80 %; 28 of 12 kW, column C: 15 + 28; 45: 25 + 0.75 x 45.
TEST_CASE("table 220.55: rows and note 3 by hand") {
  constexpr double kExact = 1e-9;
  CHECK(close(demand_kw(ranges(2, 3)), 4.5, kExact));
  CHECK(close(demand_kw(ranges(2, 5)), 6.5, kExact));
  CHECK(close(demand_kw(ranges(1, 3, ranges(1, 5))), 6.4, kExact));
  CHECK(close(demand_kw(ranges(28, 12)), 43, kExact));
  CHECK(close(demand_kw(ranges(45, 12)), 58.75, kExact));
  // Column C where it is less than columns A and B: 8 kW once against 80 % of 8.75 is not; five of
  // 8.75 kW make 45 % of 43.75 = 19.6875, less than 20.
  CHECK(close(demand_kw(ranges(1, 8.75)), 7, kExact));
  CHECK(close(demand_kw(ranges(5, 8.75)), 19.6875, kExact));
  // Outside of the table: in full.
  CHECK(close(demand_kw(ranges(1, 1.75)), 1.75, kExact));
  CHECK(close(demand_kw(ranges(1, 28)), 28, kExact));
}

// Table 220.54: the second-hand row "12 to 23: 47 less 1 for each over 11" gives 46 at 12 and 35 at
// 23, where "24 to 42: 35 less 0.5 for each over 23" goes on with 34.5.
TEST_CASE("table 220.54: percentages where its rows meet") {
  const Tables tables = load_tables();
  const DemandRule& rule = demand_rule(*find_demand_method(tables, "standard"), "dryer", 2023);
  struct Row {
    int count;
    double percent;
  };
  for (const Row& row : {Row{1, 100}, Row{4, 100}, Row{5, 85}, Row{11, 47}, Row{12, 46},
                         Row{23, 35}, Row{24, 34.5}, Row{42, 25.5}, Row{43, 25}, Row{90, 25}}) {
    CAPTURE(row.count);
    double percent = 0;
    const double va = dryer_demand(rule, ranges(row.count, 4.5), percent);
    CHECK(percent == row.percent);
    CHECK(close(va, row.count * 5000 * row.percent / 100, 1e-6));  // 5000 VA is the least of each
  }
}

}  // namespace
}  // namespace evenleg
