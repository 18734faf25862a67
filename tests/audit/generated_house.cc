#include "tests/audit/generated_house.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "tests/network/dice.h"

namespace evenleg {
namespace {

constexpr int kLoadsForPanel = 120;
constexpr int kLoadsForMultiwire = 15;
constexpr int kLoadsForGroup = 40;
constexpr int kMostSpaces = 84;

struct Appliance {
  const char* kind;
  double watts;
};

class Maker {
 public:
  Maker(int loads, std::uint64_t seed) : dice_(seed), loads_(loads) {}

  House make() {
    house_.about["name"] = "A generated house";
    house_.supply.system = "120/240 split-phase";
    house_.supply.transformer = Transformer{25, 1.2, 1.5};
    house_.service = Service{200, run("4/0 Al", "2/0 Al", 80), {}};
    house_.panels.push_back(panel("Main"));
    for (int p = 1; p <= std::max(1, loads_ / kLoadsForPanel); ++p) {
      Panel sub = panel("Sub-panel " + std::to_string(p));
      sub.fed_from = "Main";
      sub.at_spaces = {2 * p + 2 * (p - 1), 2 * p + 2 * (p - 1) + 2};
      sub.breaker_a = 60;
      sub.run = run("6 Cu", {}, dice_.between(30, 90));
      house_.panels.push_back(std::move(sub));
    }
    const int multiwires = loads_ / kLoadsForMultiwire;
    for (int m = 0; m < multiwires; ++m) make_multiwire(m);
    while (left() > 0) make_circuit();
    keep_credible();
    return std::move(house_);
  }

 private:
  static Run run(const char* conductor, const char* neutral, double feet) {
    Run run;
    run.conductor = conductor;
    if (neutral != nullptr) run.neutral = neutral;
    run.length_ft = feet;
    return run;
  }

  static Panel panel(std::string name) {
    Panel panel;
    panel.name = std::move(name);
    panel.spaces = kMostSpaces;
    return panel;
  }

  // A breaker that its always-on loads exceed would leave the house without a credible state: of
  // those, the later ones are switched like any other.
  void keep_credible() {
    constexpr double kVolts = 120;
    std::map<std::string, std::string> outlet_on;
    for (const Outlet& outlet : house_.outlets) outlet_on[outlet.name] = outlet.on;
    std::map<std::string, double> left;  // amperes, by circuit
    for (const Circuit& circuit : house_.circuits) {
      left[circuit.name] = circuit.breaker_a.value_or(0) * circuit.poles;
    }
    for (Load& load : house_.loads) {
      if (load.switching != "always on") continue;
      double& amps = left[load.circuit.value_or(outlet_on[load.at])];
      amps -= *load.watts / *load.power_factor / kVolts;
      if (amps < 0) load.switching = "free";
    }
  }

  [[nodiscard]] int left() const { return loads_ - static_cast<int>(house_.loads.size()); }

  // A third of what is not on the main panel shares the sub-panels.
  std::string some_panel() {
    if (!dice_.chance(0.35)) return house_.panels.front().name;
    const int subs = static_cast<int>(house_.panels.size()) - 1;
    return house_.panels[static_cast<std::size_t>(dice_.whole(1, subs))].name;
  }

  Circuit& add_circuit(const std::string& panel, std::vector<std::string> legs, double breaker) {
    Circuit circuit;
    circuit.name = "Circuit " + std::to_string(house_.circuits.size() + 1);
    circuit.panel = panel;
    circuit.poles = static_cast<int>(legs.size());
    circuit.legs = std::move(legs);
    circuit.breaker_a = breaker;
    house_.circuits.push_back(std::move(circuit));
    return house_.circuits.back();
  }

  // An outlet on `on`, the last one there, with a load on `circuit`.
  void add_load(const std::string& on, const std::string& circuit) {
    Outlet outlet;
    outlet.name = "Outlet " + std::to_string(house_.outlets.size() + 1);
    outlet.on = on;
    outlet.run.length_ft = dice_.between(4, 20);
    house_.outlets.push_back(outlet);
    const Appliance& one = dice_.pick(appliances_);
    Load load;
    load.name = "Load " + std::to_string(house_.loads.size() + 1);
    load.at = outlet.name;
    if (on != circuit) load.circuit = circuit;
    load.kind = one.kind;
    load.watts = one.watts * dice_.between(0.7, 1.3);
    load.power_factor = one.watts > 700 ? 1.0 : dice_.between(0.6, 1.0);
    load.on = dice_.chance(0.5);
    if (dice_.chance(0.05)) load.switching = "always on";
    if (dice_.chance(0.05) && loads_ >= kLoadsForGroup && load.switching == "free") {
      load.noncoincident = "group " + std::to_string(dice_.below(loads_ / kLoadsForGroup));
    }
    house_.loads.push_back(std::move(load));
  }

  void make_multiwire(int number) {
    const std::string panel =
        number % 2 == 0 ? house_.panels.front().name
                        : house_.panels[static_cast<std::size_t>(
                              1 + number / 2 % (static_cast<int>(house_.panels.size()) - 1))].name;
    Multiwire multiwire;
    multiwire.name = "Multiwire " + std::to_string(number + 1);
    multiwire.run = run("12 Cu", {}, dice_.between(20, 60));
    for (const char* leg : {"L1", "L2"}) {
      multiwire.circuits.push_back(add_circuit(panel, {leg}, 20).name);
    }
    const std::vector<std::string> pair = multiwire.circuits;
    const std::string name = multiwire.name;
    house_.multiwires.push_back(std::move(multiwire));
    const int boxes = std::min(left(), dice_.whole(3, 5));
    for (int b = 0; b < boxes; ++b) add_load(name, dice_.pick(pair));
  }

  void make_circuit() {
    const std::string panel = some_panel();
    if (dice_.chance(0.12)) {
      make_two_pole(panel);
      return;
    }
    const double breaker = dice_.chance(0.6) ? 20 : 15;
    Circuit& circuit = add_circuit(panel, {dice_.chance(0.5) ? "L1" : "L2"}, breaker);
    circuit.run = run(breaker > 15 ? "12 Cu" : "14 Cu", {}, dice_.between(10, 60));
    const std::string name = circuit.name;
    const int boxes = std::min(left(), dice_.whole(2, 5));
    for (int b = 0; b < boxes; ++b) add_load(name, name);
  }

  void make_two_pole(const std::string& panel) {
    Circuit& circuit = add_circuit(panel, {"L1", "L2"}, 30);
    circuit.run = run("10 Cu", {}, dice_.between(10, 50));
    Load load;
    load.name = "Load " + std::to_string(house_.loads.size() + 1);
    load.at = circuit.name;
    load.kind = "heating";
    load.watts = dice_.between(2500, 5500);
    house_.loads.push_back(std::move(load));
  }

  Dice dice_;
  int loads_;
  House house_;
  const std::vector<Appliance> appliances_{
      {"plain", 60},      {"led lamp", 9},    {"incandescent", 60}, {"computer", 150},
      {"television", 120}, {"router", 12},    {"refrigerator", 150}, {"microwave", 1300},
      {"toaster", 1100},  {"kettle", 1500},   {"hair dryer", 1500}, {"space heater", 1500},
      {"fan", 60},        {"washing machine", 600}, {"dishwasher", 1200}, {"vacuum cleaner", 900}};
};

}  // namespace

House generated_house(int loads, std::uint64_t seed) { return Maker(loads, seed).make(); }

}  // namespace evenleg
