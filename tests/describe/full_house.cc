#include "tests/describe/full_house.h"

namespace evenleg {

const std::string_view kFullText = R"toml(
format = 1
[house]
name = "Fernhill \"Süd\" 小屋"
built = 1954-05-01
storeys = 2
"living area" = 120.5
occupied = true

[supply]
system = "120/240 split-phase"
volts = [121.8, 121]
[supply.transformer]
kva = 25
resistance_percent = 1.2
reactance_percent = 1.5

[service]
breaker_a = 200
conductor = "4/0 Al"
neutral = "2/0 Al"
length_ft = 80
earth_return_ohms = 30

[dwelling]
floor_area_ft2 = 1650.5
small_appliance_circuits = 3
laundry_circuits = 1
new_hvac = true
recorded_demand_amps = 61.5
recorded_period = "30 days"

[[panel]]
name = "Main"
spaces = 40
neutral_loss_trip_volts = 135
[[panel]]
name = 'Garage \ 2'
spaces = 12
fed_from = "Main"
at_spaces = [37, 39]
breaker_a = 60
hot_ohms = 0.02
neutral_ohms = 25e-3

[[circuit]]
name = "Counter left"
panel = "Main"
space = 5
poles = 1
breaker_a = 20
protection = "AFCI"
locked = true
measured_amps = 7.5
length_m = 1.75
[[circuit]]
name = "Counter right"
space = 7
[[circuit]]
name = "Range"
panel = 'Garage \ 2'
legs = ["L1", "L2"]
poles = 2

[[multiwire]]
name = "Kitchen counter"
circuits = ["Counter left", "Counter right"]
conductor = "12 Cu"
neutral = "2.5 mm2 Cu"
length_ft = 42
common_disconnect = false
neutral_joint = "spliced"

[[outlet]]
name = "Left of range"
on = "Kitchen counter"
[[outlet]]
name = "Left of sink"
on = "Counter left"
after = "Left of range"
length_ft = 9

[[load]]
name = "Toaster"
at = "Left of range"
circuit = "Counter left"
connect = "L-N"
kind = "heating"
watts = 1100
volts = 120
noncoincident = "heat or cool"
max_volts = 132
[[load]]
name = "Pump"
at = "Range"
va = 500
power_factor = 0.8
leading = true
on = false
spectrum = { 3 = 9.7, "5" = 2 }
spectrum_degrees = { 5 = -117 }
code_letter = "H"
horsepower = 0.5
starting_power_factor = 0.6
starts_per_hour = 4
demand = "motor"
appliance = "Well"
[[load]]
name = "Fan"
at = "Left of sink"
amps = 0.5
switching = "always on"
starting_amps = 3.5
[[load]]
name = "Heater"
at = "Left of sink"
ohms = 14.4
[[load]]
name = "Lamp = [#1]"
at = "Left of sink"
measured_amps = 1e-3

[[scenario]]
name = "Evening"
on = ["Toaster", "Pump"]
[[scenario]]
name = "Night"
share = { "Lamp = [#1]" = 0.4, Fan = 1 }

[[reading]]
at = "Main"
label = "kettle on"
time = 2026-03-14 10:20:00.50
on = ["Toaster"]
main_off = false
l1_n_volts = 118.9
l2_n_volts = 122
l3_n_volts = 121.5
l1_l2_volts = 240.9
l2_l3_volts = 208.5
l3_l1_volts = 208.25
l1_amps = 12.1
l2_amps = 0
l3_amps = 1.5
neutral_amps = 12
electrode_amps = 0.25
water_pipe_amps = 0.125
together_amps = 0.0625
neutral_ground_volts = 0.5
l1_ground_volts = 119
l2_ground_volts = 122.5
l3_ground_volts = 121
joint_volts = 0.75
instrument = "clamp meter"
meter_input = "low impedance"
accuracy_percent = 0.5
accuracy_volts = 0.2
amps_accuracy_percent = 2
[[reading]]
at = "Left of sink"
time = 2026-03-14
main_off = true

[visit]
complaint = """
Lights flicker,
some go dim.\tOften."""
date = 2026-03-14
"handed over" = 10:45:00

[[finding]]
where = "Main, neutral bar"
observation = "Two neutrals under one screw."
implication = "A loose neutral is possible."
recommendation = "Have it re-terminated."
urgency = "when convenient"
)toml";

namespace {

void add_wiring(House& house) {
  Panel main;
  main.name = "Main";
  main.spaces = 40;
  main.neutral_loss_trip_volts = 135;
  Panel garage;
  garage.name = "Garage \\ 2";
  garage.spaces = 12;
  garage.fed_from = "Main";
  garage.at_spaces = {37, 39};
  garage.breaker_a = 60;
  garage.run.hot_ohms = 0.02;
  garage.run.neutral_ohms = 0.025;
  house.panels = {main, garage};
  Circuit left;
  left.name = "Counter left";
  left.panel = "Main";
  left.space = 5;
  left.breaker_a = 20;
  left.protection = "AFCI";
  left.locked = true;
  left.measured_amps = 7.5;
  left.run.length_m = 1.75;
  Circuit right;
  right.name = "Counter right";
  right.space = 7;
  Circuit range;
  range.name = "Range";
  range.panel = "Garage \\ 2";
  range.legs = {"L1", "L2"};
  range.poles = 2;
  house.circuits = {left, right, range};
  Multiwire counter;
  counter.name = "Kitchen counter";
  counter.circuits = {"Counter left", "Counter right"};
  counter.run.conductor = "12 Cu";
  counter.run.neutral = "2.5 mm2 Cu";
  counter.run.length_ft = 42;
  counter.common_disconnect = false;
  counter.neutral_joint = "spliced";
  house.multiwires = {counter};
  Outlet by_range;
  by_range.name = "Left of range";
  by_range.on = "Kitchen counter";
  Outlet by_sink;
  by_sink.name = "Left of sink";
  by_sink.on = "Counter left";
  by_sink.after = "Left of range";
  by_sink.run.length_ft = 9;
  house.outlets = {by_range, by_sink};
}

void add_loads(House& house) {
  Load toaster;
  toaster.name = "Toaster";
  toaster.at = "Left of range";
  toaster.circuit = "Counter left";
  toaster.connect = "L-N";
  toaster.kind = "heating";
  toaster.watts = 1100;
  toaster.volts = 120;
  toaster.noncoincident = "heat or cool";
  toaster.max_volts = 132;
  Load pump;
  pump.name = "Pump";
  pump.at = "Range";
  pump.va = 500;
  pump.power_factor = 0.8;
  pump.leading = true;
  pump.on = false;
  pump.spectrum = {{"3", 9.7}, {"5", 2}};
  pump.spectrum_degrees = {{"5", -117}};
  pump.code_letter = "H";
  pump.horsepower = 0.5;
  pump.starting_power_factor = 0.6;
  pump.starts_per_hour = 4;
  pump.demand = "motor";
  pump.appliance = "Well";
  Load fan;
  fan.name = "Fan";
  fan.at = "Left of sink";
  fan.amps = 0.5;
  fan.switching = "always on";
  fan.starting_amps = 3.5;
  Load heater;
  heater.name = "Heater";
  heater.at = "Left of sink";
  heater.ohms = 14.4;
  Load lamp;
  lamp.name = "Lamp = [#1]";
  lamp.at = "Left of sink";
  lamp.measured_amps = 0.001;
  house.loads = {toaster, pump, fan, heater, lamp};
}

void add_records(House& house) {
  house.scenarios = {{.name = "Evening", .on = {"Toaster", "Pump"}, .share = {}},
                     {.name = "Night", .on = {}, .share = {{"Fan", 1}, {"Lamp = [#1]", 0.4}}}};
  Reading first;
  first.at = "Main";
  first.label = "kettle on";
  first.time = "2026-03-14T10:20:00.5";
  first.on = {"Toaster"};
  first.l1_n_volts = 118.9;
  first.l2_n_volts = 122;
  first.l3_n_volts = 121.5;
  first.l1_l2_volts = 240.9;
  first.l2_l3_volts = 208.5;
  first.l3_l1_volts = 208.25;
  first.l1_amps = 12.1;
  first.l2_amps = 0;
  first.l3_amps = 1.5;
  first.neutral_amps = 12;
  first.electrode_amps = 0.25;
  first.water_pipe_amps = 0.125;
  first.together_amps = 0.0625;
  first.neutral_ground_volts = 0.5;
  first.l1_ground_volts = 119;
  first.l2_ground_volts = 122.5;
  first.l3_ground_volts = 121;
  first.joint_volts = 0.75;
  first.instrument = "clamp meter";
  first.meter_input = "low impedance";
  first.accuracy_percent = 0.5;
  first.accuracy_volts = 0.2;
  first.amps_accuracy_percent = 2;
  Reading second;
  second.at = "Left of sink";
  second.time = "2026-03-14";
  second.main_off = true;
  house.readings = {first, second};
  house.visit = {{"complaint", "Lights flicker,\nsome go dim.\tOften."},
                 {"date", "2026-03-14"},
                 {"handed over", "10:45:00"}};
  SiteFinding finding;
  finding.where = "Main, neutral bar";
  finding.observation = "Two neutrals under one screw.";
  finding.implication = "A loose neutral is possible.";
  finding.recommendation = "Have it re-terminated.";
  finding.urgency = "when convenient";
  house.findings = {finding};
}

}  // namespace

House full_house() {
  House house;
  house.about = {{"name", "Fernhill \"Süd\" 小屋"},
                 {"built", "1954-05-01"},
                 {"storeys", "2"},
                 {"living area", "120.5"},
                 {"occupied", "true"}};
  house.supply.system = "120/240 split-phase";
  house.supply.volts = {121.8, 121};
  house.supply.transformer = {.kva = 25, .resistance_percent = 1.2, .reactance_percent = 1.5};
  house.service = Service{.breaker_a = 200, .run = {}, .earth_return_ohms = 30};
  house.service->run.conductor = "4/0 Al";
  house.service->run.neutral = "2/0 Al";
  house.service->run.length_ft = 80;
  house.dwelling = Dwelling{.floor_area_ft2 = 1650.5,
                            .floor_area_m2 = {},
                            .small_appliance_circuits = 3,
                            .laundry_circuits = 1,
                            .new_hvac = true,
                            .recorded_demand_amps = 61.5,
                            .recorded_period = "30 days"};
  add_wiring(house);
  add_loads(house);
  add_records(house);
  return house;
}

}  // namespace evenleg
