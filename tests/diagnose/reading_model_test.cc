// The volts at the places read, against the engine of the whole house: another formulation (nodal
// elimination of every conductor) of the same laws, on random houses.
#include "src/diagnose/reading_model.h"

#include <doctest/doctest.h>

#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"
#include "tests/check.h"
#include "tests/network/dice.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

// Readings at random panels and outlets, with random loads on.
void add_readings(House& house, Dice& dice) {
  constexpr int kReadings = 6;
  for (int r = 0; r < kReadings; ++r) {
    Reading reading;
    reading.at = !house.outlets.empty() && dice.chance(0.6) ? dice.pick(house.outlets).name
                                                            : dice.pick(house.panels).name;
    for (const Load& load : house.loads) {
      if (dice.chance(0.4)) reading.on.push_back(load.name);
    }
    house.readings.push_back(std::move(reading));
  }
}

std::vector<bool> on_in(const House& house, const Reading& reading) {
  std::vector<bool> on;
  for (const Load& load : house.loads) {
    on.push_back(std::count(reading.on.begin(), reading.on.end(), load.name) > 0);
  }
  return on;
}

TEST_CASE("the volts at a reading are those of the whole house's engine") {
  const Tables tables = load_tables();
  const Vocabulary words = vocabulary(tables);
  RandomHouseOptions options;
  options.transformer = 0;  // its earth return would be in another place; tested by itself below
  options.loads = 12;
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    House house = random_house(seed, options);
    Dice dice(seed);
    add_readings(house, dice);
    const Wiring wiring = wire(house, *find_system(words, house.supply.system));
    const Model model = build_model(house, wiring, tables);
    const ReadPoints points = read_points(house, wiring, model);
    const ReadingModel readings(house, model, points, true);
    for (std::size_t r = 0; r < house.readings.size(); ++r) {
      const int p = points.of_reading[r];
      const ReadState state =
          readings.state(readings.described(), readings.place(house.readings[r], p));
      const Solution whole = solve(model, admittances(model, on_in(house, house.readings[r])));
      REQUIRE(whole.status == SolveStatus::Solved);
      const ReadPoint& point = points.points[static_cast<std::size_t>(p)];
      const auto w = static_cast<std::size_t>(point.neutral());
      const Complex neutral = point.panel >= 0
                                  ? whole.panels[static_cast<std::size_t>(point.panel)].neutral
                                  : whole
                                        .boxes[static_cast<std::size_t>(point.cable)]
                                              [static_cast<std::size_t>(point.box)]
                                        .neutral;
      CHECK(close(state.volts[static_cast<std::size_t>(p)][w], neutral, 1e-7));
      const Complex hot = point.panel >= 0
                              ? whole.panels[static_cast<std::size_t>(point.panel)].hot.front()
                              : whole
                                    .boxes[static_cast<std::size_t>(point.cable)]
                                          [static_cast<std::size_t>(point.box)]
                                    .hot[static_cast<std::size_t>(point.wires.front().hot)];
      CHECK(close(state.volts[static_cast<std::size_t>(p)].front(), hot, 1e-7));
      ++compared;
    }
  }
  CHECK(compared == 1200);
}

}  // namespace
}  // namespace evenleg
