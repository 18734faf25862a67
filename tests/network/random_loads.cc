#include "tests/network/random_loads.h"

#include <algorithm>
#include <optional>

namespace evenleg {
namespace {

struct ReachingHot {
  std::size_t circuit = 0;
  int leg = 0;
};

// Where a load may sit, and the hots that reach it.
struct Spot {
  std::string name;
  std::vector<ReachingHot> hots;
  bool shared = false;  // an outlet on a multiwire
};

std::vector<ReachingHot> hots_of(const House& house, const std::string& circuit,
                                 const std::vector<std::vector<int>>& circuit_legs) {
  std::vector<ReachingHot> hots;
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    if (house.circuits[c].name != circuit) continue;
    for (int leg : circuit_legs[c]) hots.push_back({c, leg});
  }
  return hots;
}

std::vector<Spot> every_spot(const House& house, const std::vector<std::vector<int>>& legs) {
  std::vector<Spot> spots;
  for (const Circuit& circuit : house.circuits) {
    spots.push_back({circuit.name, hots_of(house, circuit.name, legs), false});
  }
  for (const Outlet& outlet : house.outlets) {
    Spot spot{outlet.name, hots_of(house, outlet.on, legs), false};
    for (const Multiwire& multiwire : house.multiwires) {
      if (multiwire.name != outlet.on) continue;
      spot.shared = true;
      for (const std::string& circuit : multiwire.circuits) {
        const std::vector<ReachingHot> more = hots_of(house, circuit, legs);
        spot.hots.insert(spot.hots.end(), more.begin(), more.end());
      }
    }
    spots.push_back(std::move(spot));
  }
  return spots;
}

std::string leg_name(int leg) { return "L" + std::to_string(leg + 1); }

// Legs that exactly one of the hots is on: those that a load can name without a circuit.
std::vector<int> single_legs(const std::vector<ReachingHot>& hots) {
  std::vector<int> legs;
  for (const ReachingHot& hot : hots) {
    const auto same = [&](const ReachingHot& other) { return other.leg == hot.leg; };
    if (std::count_if(hots.begin(), hots.end(), same) == 1) legs.push_back(hot.leg);
  }
  return legs;
}

void connect(Load& load, const House& house, const Spot& spot, Dice& dice) {
  load.at = spot.name;
  std::vector<ReachingHot> hots = spot.hots;
  std::vector<int> legs = single_legs(hots);
  if (spot.shared && legs.size() >= 2 && dice.chance(0.4)) {  // between two circuits of a multiwire
    dice.shuffle(legs);
    load.connect = leg_name(legs[0]) + "-" + leg_name(legs[1]);
    return;
  }
  if (spot.shared && (legs.empty() || dice.chance(0.6))) {
    const std::size_t circuit = dice.pick(hots).circuit;
    load.circuit = house.circuits[circuit].name;
    std::erase_if(hots, [&](const ReachingHot& hot) { return hot.circuit != circuit; });
    legs = single_legs(hots);
    if (hots.size() == 1) {
      if (dice.chance(0.3)) load.connect = "L-N";
      return;
    }
  }
  if (dice.chance(0.5) || (hots.size() == 1 && dice.chance(0.5)) || legs.size() < 2) {
    if (hots.size() == 1 && dice.chance(0.5)) return;  // L-N by default
    load.connect = leg_name(dice.pick(legs)) + "-N";
  } else if (hots.size() == 2 && (!spot.shared || load.circuit) && dice.chance(0.5)) {
    if (dice.chance(0.5)) load.connect = "L-L";  // the default on two poles, too
  } else if (spot.shared && load.circuit) {
    load.connect = leg_name(dice.pick(legs)) + "-N";
  } else {
    dice.shuffle(legs);
    load.connect = leg_name(legs[0]) + "-" + leg_name(legs[1]);
  }
}

// A nameplate from a night light to a heater, or a clamp reading small enough for any run.
void rate(Load& load, const RandomHouseOptions& options, Dice& dice) {
  static const std::vector<std::string> kKinds = {"plain", "heating", "motor", "electronics"};
  load.kind = dice.pick(kKinds);
  if (dice.chance(0.2)) load.volts = dice.pick<double>({100, 120, 127, 208, 230, 240});
  const double power = dice.chance(0.3) ? dice.between(5, 100) : dice.between(100, 3000);
  if (dice.chance(options.measured)) {
    load.measured_amps = dice.between(0.1, 4);
  } else {
    switch (dice.below(4)) {
      case 0:
        load.watts = power;
        break;
      case 1:
        load.va = power;
        break;
      case 2:
        load.amps = dice.between(0.05, 15);
        break;
      default:
        load.ohms = dice.between(4, 800);
    }
  }
  if (load.ohms) return;
  if (dice.chance(0.6)) load.power_factor = dice.between(0.3, 1);
  load.leading = dice.chance(options.leading);
}

}  // namespace

void make_loads(House& house, const std::vector<std::vector<int>>& circuit_legs,
                const RandomHouseOptions& options, Dice& dice) {
  const std::vector<Spot> spots = every_spot(house, circuit_legs);
  static const std::vector<std::string> kGroups = {"heat or cool", "either pump"};
  for (int l = 0; l < options.loads; ++l) {
    Load load;
    load.name = "Load " + std::to_string(l + 1);
    connect(load, house, dice.pick(spots), dice);
    rate(load, options, dice);
    load.on = !dice.chance(options.off);
    if (dice.chance(options.switching)) {
      load.switching = dice.chance(0.5) ? "always on" : "always off";
    }
    if (dice.chance(options.noncoincident)) load.noncoincident = dice.pick(kGroups);
    if (dice.chance(0.2)) load.max_volts = dice.between(110, 300);
    house.loads.push_back(std::move(load));
  }
}

}  // namespace evenleg
