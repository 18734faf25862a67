#include "tests/balance/random_panel.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/index.h"
#include "tests/network/dice.h"

namespace evenleg {
namespace {

class Maker {
 public:
  Maker(std::uint32_t seed, const RandomPanelOptions& options)
      : dice_(seed), options_(options), taken_(at(options.spaces) + 3, false) {}

  House make() {
    house_.about["name"] = "A random panel";
    house_.supply.system = options_.system;
    Panel panel;
    panel.name = "Main";
    panel.spaces = options_.spaces;
    house_.panels.push_back(panel);
    for (int space = 1; space <= options_.spaces; ++space) {
      if (!taken_[at(space)] && !dice_.chance(options_.empty)) fill(space);
    }
    for (int s = 1; s <= options_.scenarios; ++s) {
      Scenario scenario;
      scenario.name = fmt::format("Scenario {}", s);
      for (const Load& load : house_.loads) {
        if (dice_.chance(0.5)) scenario.share[load.name] = dice_.pick<double>({0.25, 0.5, 1});
      }
      house_.scenarios.push_back(std::move(scenario));
    }
    return std::move(house_);
  }

 private:
  [[nodiscard]] bool free(int space) const {
    return space <= options_.spaces && !taken_[at(space)];
  }

  void fill(int space) {
    if (free(space + 2) && dice_.chance(options_.two_poles)) {
      circuit(space, 2);
    } else if (dice_.chance(options_.multiwire) && add_multiwire(space)) {
    } else if (dice_.chance(options_.tandem)) {
      const int first = circuit(space, 1);
      const int second = circuit(space, 1);
      house_.circuits[at(first)].locked = house_.circuits[at(second)].locked = false;
      house_.circuits[at(second)].legs = {leg_name(space)};
    } else {
      circuit(space, 1);
    }
  }

  [[nodiscard]] int bus_legs() const {
    return options_.system == "120/208 wye" ? 3 : 2;
  }
  [[nodiscard]] std::string leg_name(int space) const {
    return fmt::format("L{}", (space - 1) / 2 % bus_legs() + 1);
  }

  // Of two circuits, one above the other or side by side one row further.
  bool add_multiwire(int space) {
    const bool joined = dice_.chance(options_.joined);
    const int other = joined ? space + 2 : space + (space % 2 == 1 ? 3 : 1);
    if (!free(other)) return false;
    Multiwire multiwire;
    multiwire.name = fmt::format("Multiwire {}", house_.multiwires.size() + 1);
    for (int at_space : {space, other}) {
      multiwire.circuits.push_back(house_.circuits[at(circuit(at_space, 1))].name);
    }
    house_.multiwires.push_back(std::move(multiwire));
    return true;
  }

  int circuit(int space, int poles) {
    Circuit made;
    const std::size_t index = house_.circuits.size();
    made.name = fmt::format("C{}", index + 1);
    made.space = space;
    made.poles = poles;
    made.locked = dice_.chance(options_.locked);
    if (dice_.chance(options_.own_protection)) made.protection = "AFCI";
    for (int pole = 0; pole < poles; ++pole) taken_[at(space + 2 * pole)] = true;
    house_.circuits.push_back(made);
    load(index, poles == 2 ? std::optional<std::string>("L-L") : std::nullopt);
    if (poles == 2 && dice_.chance(0.4)) load(index, leg_name(space) + "-N");
    return static_cast<int>(index);
  }

  void load(std::size_t circuit, std::optional<std::string> connect) {
    Load made;
    made.name = fmt::format("Load {}", house_.loads.size() + 1);
    made.at = house_.circuits[circuit].name;
    made.amps = dice_.between(0.5, 16);
    made.on = dice_.chance(0.5);
    made.connect = std::move(connect);
    house_.loads.push_back(std::move(made));
  }

  Dice dice_;
  RandomPanelOptions options_;
  std::vector<bool> taken_;
  House house_;
};

}  // namespace

House random_panel(std::uint32_t seed, const RandomPanelOptions& options) {
  return Maker(seed, options).make();
}

}  // namespace evenleg
