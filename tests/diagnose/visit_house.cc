#include "tests/diagnose/visit_house.h"

#include "evenleg/describe/describe.h"
#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

constexpr std::string_view kHouse = R"(
format = 1
house = {name = "Larkrise"}
supply = {system = "120/240 split-phase", volts = 121}
service = {breaker_a = 100, conductor = "4/0 Al", neutral = "2/0 Al", length_ft = 100}
panel = [{name = "Main", spaces = 20}]
circuit = [
  {name = "Den", space = 1, breaker_a = 20, conductor = "12 Cu", length_ft = 40},
  {name = "Counter left", space = 5, breaker_a = 20, length_ft = 7},
  {name = "Counter right", space = 7, breaker_a = 20, length_ft = 7},
  {name = "Range", space = 2, poles = 2, breaker_a = 40, conductor = "8 Cu", length_ft = 30},
  {name = "Lights", space = 9, breaker_a = 15, conductor = "14 Cu", length_ft = 30},
]
multiwire = [
  {name = "Kitchen", circuits = ["Counter left", "Counter right"], conductor = "12 Cu", length_ft = 40},
]
outlet = [
  {name = "Den wall", on = "Den"},
  {name = "Left", on = "Counter left"},
  {name = "Right", on = "Counter right"},
  {name = "Ceiling", on = "Lights"},
]
load = [
  {name = "Heater", at = "Den wall", kind = "space heater", watts = 1500, on = false},
  {name = "Kettle", at = "Left", kind = "kettle", watts = 1500, on = false},
  {name = "Toaster", at = "Right", kind = "toaster", watts = 900, on = false},
  {name = "Oven", at = "Range", kind = "oven", watts = 6000, on = false},
  {name = "Lamps", at = "Ceiling", kind = "led lamp", watts = 60, on = false},
]
)";

}  // namespace

House visit_house() {
  static const Tables tables = load_tables();
  return read_description(kHouse, "visit house", vocabulary(tables));
}

double normal(Dice& dice) {
  constexpr int kTerms = 12;
  double sum = -kTerms / 2.0;
  for (int i = 0; i < kTerms; ++i) sum += dice.between(0, 1);
  return sum;
}

Reading three_wire_reading(const ThreeWires& wires, double amps1, double amps2, double noise_volts,
                           Dice& dice) {
  Reading reading;
  reading.at = "Main";
  const double v1 = wires.volts - wires.r1 * amps1 - wires.rn * (amps1 - amps2);
  const double v2 = wires.volts - wires.r2 * amps2 - wires.rn * (amps2 - amps1);
  reading.l1_n_volts = v1 + noise_volts * normal(dice);
  reading.l2_n_volts = v2 + noise_volts * normal(dice);
  reading.l1_l2_volts = v1 + v2 + noise_volts * normal(dice);
  reading.l1_amps = amps1;
  reading.l2_amps = amps2;
  return reading;
}

Estimation estimate_of(const House& house) {
  static const Tables tables = load_tables();
  const Wiring wiring = wire(house, *find_system(vocabulary(tables), house.supply.system));
  return estimate_from_readings(house, wiring, build_model(house, wiring, tables));
}

}  // namespace evenleg
