// A table of an open or weak neutral in closed form: 120 V on each side, constant resistances,
//   VN = 120 (G1 - G2) / (G1 + G2 + Ge),   V1 = 120 - VN,   V2 = 120 + VN,
// Ge the conductance of the return path, 0 where it is open. Computed by hand; the 100 W and 200 W
// pair is a published classroom example (training slides, their last figures cut off). The neutral
// conductor is removed here and the earth return is the path.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <optional>
#include <string_view>

#include "evenleg/describe/describe.h"
#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

struct Row {
  double watts_1;
  double watts_2;
  std::optional<double> return_ohms;
  std::string_view volts_1;
  std::string_view volts_2;
  std::string_view return_amps;
};
const Row kRows[] = {
    {100, 200, {}, "160.00", "80.00", "0"},     {100, 200, 25, "133.70", "106.30", "0.55"},
    {60, 1500, {}, "230.77", "9.23", "0"},      {60, 1500, 50, "213.51", "26.49", "1.87"},
    {60, 1500, 25, "200.90", "39.10", "3.24"},  {60, 1500, 5, "158.92", "81.08", "7.78"},
    {60, 1500, 1, "130.83", "109.17", "10.83"}, {60, 1500, 0.1, "121.19", "118.81", "11.87"},
    {600, 1200, {}, "160.00", "80.00", "0"},    {600, 1200, 5, "135.38", "104.62", "3.08"},
    {1200, 1500, {}, "133.33", "106.67", "0"},  {2400, 600, {}, "48.00", "192.00", "0"},
    {2400, 600, 25, "59.60", "180.40", "2.42"},
};

TEST_CASE("open neutral in closed form: volts of both legs and the current of the return path") {
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.volts_1);
    CAPTURE(row.volts_2);
    const std::string earth =
        row.return_ohms ? fmt::format("earth_return_ohms = {}", *row.return_ohms) : "";
    const House house =
        read_description(std::string(kTwoLegs) + fmt::format(R"(
[supply]
system = "120/240 split-phase"
[service]
{}
[[load]]
name = "one"
at = "L1"
watts = {}
[[load]]
name = "two"
at = "L2"
watts = {}
)",
                                                             earth, row.watts_1, row.watts_2),
                         "example", vocabulary(tables));
    const Wiring wiring = wire(house, *find_system(vocabulary(tables), house.supply.system));
    const Model model = build_model(house, wiring, tables);
    const NeutralFault open{fault_places(house, wiring)[0], kOpen};
    for (const auto engine : {solve, solve_sparse}) {
      const Solution solved = engine(model, admittances(model, on_as_found(model)), open);
      CHECK(matches_printed(std::abs(solved.load_volts[0]), row.volts_1));
      CHECK(matches_printed(std::abs(solved.load_volts[1]), row.volts_2));
      CHECK(matches_printed(std::abs(solved.earth_return_amps), row.return_amps));
    }
  }
}

// The residential-wiring resistors of 40 and 400 ohms, 8 ohms across, at 120/240 V: 240 V divide as
// 1 to 10, 21.82 V and 218.18 V.
TEST_CASE("open neutral in closed form: 40 ohms against 400 ohms") {
  const DescribedHouse house(kTwoLegsAndAcross, R"(
supply = {system = "120/240 split-phase"}
load = [{name = "R1", at = "L1", ohms = 40}, {name = "R2", at = "L2", ohms = 400},
        {name = "R3", at = "Across", ohms = 8}]
)");
  const SolvedHouse open = house.neutral_open();
  CHECK(matches_printed(open.load_volts("R1"), "21.82"));
  CHECK(matches_printed(open.load_volts("R2"), "218.18"));
}

}  // namespace
}  // namespace evenleg
