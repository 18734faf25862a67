#include "tests/network/random_house.h"

#include <algorithm>

#include "tests/network/dice.h"
#include "tests/network/random_loads.h"

namespace evenleg {
namespace {

// Sizes below are judgement: what a dwelling has, with short runs so that no load is starved.
constexpr int kSpaces = 200;

int leg_count(const std::string& system) { return system.find("wye") == std::string::npos ? 2 : 3; }

// "120/240 split-phase" starts with its volts to neutral.
double nominal_volts_of(const std::string& system) { return std::stoi(system); }

// A feeder or circuit takes odd or even spaces of a panel, row by row, so that none is taken twice.
struct PanelFace {
  std::vector<int> legs;
  int next_odd_row = 0;
  int next_even_row = 0;
};

class Maker {
 public:
  Maker(std::uint64_t seed, const RandomHouseOptions& options) : dice_(seed), options_(options) {}

  House make() {
    house_.about["name"] = "A random house";
    make_supply();
    make_panels();
    const int circuits = dice_.whole(1, std::max(2, options_.loads));
    for (int c = 0; c < circuits; ++c) make_circuit(c);
    make_multiwires();
    make_outlets();
    make_loads(house_, circuit_legs_, options_, dice_);
    return std::move(house_);
  }

 private:
  void make_supply() {
    Supply& supply = house_.supply;
    supply.system = options_.system ? *options_.system : dice_.pick(every_supply_system());
    const double nominal = nominal_volts_of(supply.system);
    const auto near = [&] { return nominal * dice_.between(0.95, 1.05); };
    if (!dice_.chance(options_.equal_source_volts)) {
      for (int leg = 0; leg < leg_count(supply.system); ++leg) supply.volts.push_back(near());
    } else if (dice_.chance(0.5)) {
      supply.volts = {near()};
    }
    if (dice_.chance(options_.transformer)) {
      Transformer& transformer = supply.transformer.emplace();
      transformer.kva = dice_.pick<double>({10, 15, 25, 50, 100});
      const int which = dice_.below(4);  // one of R and X may be left out
      if (which != 0) transformer.resistance_percent = dice_.between(0.5, 2);
      if (which != 1) transformer.reactance_percent = dice_.between(0.5, 4);
    }
    if (!dice_.chance(options_.service_run)) return;
    Service& service = house_.service.emplace();
    service.run = random_run({"4/0 Al", "2/0 Cu", "25 mm2 Cu", "250 Al"}, 120);
    if (dice_.chance(0.5)) service.breaker_a = dice_.pick<double>({60, 100, 200});
    if (dice_.chance(options_.earth_return)) {
      service.earth_return_ohms = dice_.between(0.5, 100);
    }
  }

  // Up to `feet` of one of these conductors, measured resistances, a mix of both, or nothing.
  Run random_run(const std::vector<std::string>& conductors, double feet) {
    Run run;
    if (dice_.chance(options_.without_resistance)) return run;
    if (dice_.chance(0.6)) {
      run.conductor = dice_.pick(conductors);
      if (dice_.chance(0.3)) run.neutral = dice_.pick(conductors);
      constexpr double kMetresPerFoot = 0.3048;
      const double length = dice_.between(1, feet);
      if (dice_.chance(0.5)) {
        run.length_ft = length;
      } else {
        run.length_m = length * kMetresPerFoot;
      }
      if (dice_.chance(0.1)) run.neutral_ohms = dice_.between(0, 1);
      return run;
    }
    run.hot_ohms = dice_.chance(0.2) ? 0 : dice_.between(0.001, 0.2);
    if (dice_.chance(0.5)) run.neutral_ohms = dice_.chance(0.2) ? 0 : dice_.between(0.001, 0.4);
    return run;
  }
  Run branch_run() { return random_run({"14 Cu", "12 Cu", "10 Al", "2.5 mm2 Cu"}, 80); }

  void make_panels() {
    const int legs = leg_count(house_.supply.system);
    PanelFace main;
    for (int leg = 0; leg < legs; ++leg) main.legs.push_back(leg);
    house_.panels.push_back({"Main", kSpaces, {}, {}, {}, {}, {}});
    faces_.push_back(main);
    const int more = dice_.whole(0, options_.most_sub_panels);
    for (int p = 1; p <= more; ++p) make_sub_panel(p);
  }

  void make_sub_panel(int number) {
    const int from = dice_.below(number);
    PanelFace& feeding = faces_[static_cast<std::size_t>(from)];
    Panel panel;
    panel.name = "Panel " + std::to_string(number);
    panel.spaces = kSpaces;
    panel.fed_from = house_.panels[static_cast<std::size_t>(from)].name;
    if (dice_.chance(0.3)) panel.neutral_loss_trip_volts = dice_.between(130, 280);
    if (dice_.chance(0.5)) panel.breaker_a = 60;
    panel.run = random_run({"6 Cu", "2 Al", "16 mm2 Cu"}, 150);
    PanelFace face;
    if (dice_.chance(0.4)) {
      face.legs = feeding.legs;
    } else {
      const auto all = static_cast<int>(feeding.legs.size());
      std::vector<int> rows(feeding.legs.size());
      for (int r = 0; r < all; ++r) rows[static_cast<std::size_t>(r)] = feeding.next_even_row + r;
      dice_.shuffle(rows);
      rows.resize(static_cast<std::size_t>(dice_.whole(1, all)));
      feeding.next_even_row += all;
      for (int row : rows) {
        panel.at_spaces.push_back(2 * row + 2);
        face.legs.push_back(feeding.legs[static_cast<std::size_t>(row % all)]);
      }
      std::sort(face.legs.begin(), face.legs.end());
    }
    faces_.push_back(face);
    house_.panels.push_back(std::move(panel));
  }

  void make_circuit(int number) {
    Circuit circuit;
    circuit.name = "Circuit " + std::to_string(number + 1);
    const int p = dice_.below(static_cast<int>(faces_.size()));
    PanelFace& face = faces_[static_cast<std::size_t>(p)];
    const auto bus = static_cast<int>(face.legs.size());
    if (p > 0 || dice_.chance(0.5)) circuit.panel = house_.panels[static_cast<std::size_t>(p)].name;
    if (bus >= 2 && dice_.chance(options_.two_poles)) {
      circuit.poles = bus > 2 && dice_.chance(0.3) ? 3 : 2;
    }
    std::vector<int> legs;
    if (dice_.chance(0.3)) {
      legs = face.legs;
      dice_.shuffle(legs);
      legs.resize(static_cast<std::size_t>(circuit.poles));
      for (int leg : legs) circuit.legs.push_back("L" + std::to_string(leg + 1));
    } else {
      face.next_odd_row += dice_.below(2);
      circuit.space = 2 * face.next_odd_row + 1;
      for (int pole = 0; pole < circuit.poles; ++pole) {
        legs.push_back(face.legs[static_cast<std::size_t>((face.next_odd_row + pole) % bus)]);
      }
      face.next_odd_row += circuit.poles;
    }
    if (dice_.chance(options_.breaker))
      circuit.breaker_a = dice_.pick<double>({10, 15, 16, 20, 30});
    circuit.locked = dice_.chance(0.1);
    circuit.run = branch_run();
    house_.circuits.push_back(std::move(circuit));
    circuit_legs_.push_back(std::move(legs));
  }

  // Circuits in the order of their listing, two or three at a time; of one panel or of two.
  void make_multiwires() {
    constexpr int kMostHotsOfCable = 6;
    for (std::size_t c = 0; c + 1 < house_.circuits.size();) {
      const std::size_t left = house_.circuits.size() - c;
      const std::size_t size = left > 2 && dice_.chance(0.3) ? 3 : 2;
      Multiwire multiwire;
      int hots = 0;
      for (std::size_t i = c; i < c + size; ++i) {
        multiwire.circuits.push_back(house_.circuits[i].name);
        hots += house_.circuits[i].poles;
      }
      const bool together = dice_.chance(options_.multiwire) && hots <= kMostHotsOfCable;
      if (together) {
        multiwire.name = "Multiwire " + std::to_string(house_.multiwires.size() + 1);
        multiwire.run = branch_run();
        if (dice_.chance(0.5)) multiwire.common_disconnect = dice_.chance(0.5);
        house_.multiwires.push_back(std::move(multiwire));
      }
      c += together ? size : 1;
    }
  }

  Outlet outlet(const std::string& on) {
    Outlet made{"Outlet " + std::to_string(house_.outlets.size() + 1), on, {}, branch_run()};
    return made;
  }

  // Outlets of multiwires, then of circuits, which may continue from an outlet of their multiwire;
  // a cable may fork at any outlet.
  void make_outlets() {
    constexpr int kMostOutlets = 2;
    std::vector<std::vector<std::string>> shared;  // by multiwire
    for (const Multiwire& multiwire : house_.multiwires) {
      shared.push_back(make_chain(multiwire.name, dice_.whole(0, kMostOutlets), {}));
    }
    for (const Circuit& circuit : house_.circuits) {
      std::vector<std::string> upstream;
      for (std::size_t m = 0; m < house_.multiwires.size(); ++m) {
        const std::vector<std::string>& members = house_.multiwires[m].circuits;
        if (std::count(members.begin(), members.end(), circuit.name) > 0) upstream = shared[m];
      }
      make_chain(circuit.name, dice_.whole(0, kMostOutlets), upstream);
    }
  }

  std::vector<std::string> make_chain(const std::string& on, int length,
                                      std::vector<std::string> upstream) {
    std::vector<std::string> names;
    for (int o = 0; o < length; ++o) {
      Outlet made = outlet(on);
      if (!upstream.empty() && dice_.chance(0.5)) made.after = dice_.pick(upstream);
      names.push_back(made.name);
      upstream.push_back(made.name);
      house_.outlets.push_back(std::move(made));
    }
    return names;
  }

  Dice dice_;
  const RandomHouseOptions& options_;
  House house_;
  std::vector<PanelFace> faces_;
  std::vector<std::vector<int>> circuit_legs_;
};

}  // namespace

const std::vector<std::string>& every_supply_system() {
  static const std::vector<std::string> kSystems = {"120/240 split-phase", "100/200 split-phase",
                                                    "120/208 two-leg",     "120/208 wye",
                                                    "127/220 wye",         "230/400 wye"};
  return kSystems;
}

House random_house(std::uint64_t seed, const RandomHouseOptions& options) {
  return Maker(seed, options).make();
}

}  // namespace evenleg
