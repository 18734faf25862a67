// The described house as plain values: what a person wrote, no more.
//
// Every member has the name, unit and meaning of the key in the house description (README, "The
// house description"); units are in the names, so the doubles are bare. An absent optional key
// stays absent here: its meaning is worked out in wiring.h (where everything is connected) and in
// the network module (what it amounts to in ohms). Names are unique within their kind and are what
// all other members refer to. Order matters for panels (the first is fed by the service) and for
// outlets (each follows the one before it).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace evenleg {

// A cable run: conductor and length, or measured resistances, which win where both are given.
struct Run {
  std::optional<std::string> conductor;  // "12 Cu", "4/0 Al", "2.5 mm2 Cu"
  std::optional<std::string> neutral;    // the hot conductors' size when absent
  std::optional<double> length_ft;       // never both lengths
  std::optional<double> length_m;
  std::optional<double> hot_ohms;      // each hot conductor, measured
  std::optional<double> neutral_ohms;  // the neutral, measured; hot_ohms when absent

  bool operator==(const Run&) const = default;
};

struct Transformer {
  std::optional<double> kva;
  std::optional<double> resistance_percent;
  std::optional<double> reactance_percent;

  bool operator==(const Transformer&) const = default;
};

struct Supply {
  std::string system;         // "120/240 split-phase"
  std::vector<double> volts;  // empty: nominal; one: all legs; else one for each leg
  std::optional<Transformer> transformer;

  bool operator==(const Supply&) const = default;
};

struct Service {
  std::optional<double> breaker_a;
  Run run;
  std::optional<double> earth_return_ohms;

  bool operator==(const Service&) const = default;
};

// The figures of the dwelling that a service calculation asks for; nothing else uses them.
struct Dwelling {
  std::optional<double> floor_area_ft2;  // outside dimensions; never both areas
  std::optional<double> floor_area_m2;
  std::optional<int> small_appliance_circuits;  // the method's least when absent
  std::optional<int> laundry_circuits;
  bool new_hvac = false;  // heating or cooling is being added to an existing dwelling
  std::optional<double> recorded_demand_amps;  // the highest leg's
  std::optional<std::string> recorded_period;  // "1 year", "30 days"

  bool operator==(const Dwelling&) const = default;
};

struct Panel {
  std::string name;
  int spaces = 0;
  std::optional<double> neutral_loss_trip_volts;
  std::optional<std::string> fed_from;
  std::vector<int> at_spaces;  // in the feeding panel; empty: every leg
  std::optional<double> breaker_a;
  Run run;  // the feeder

  bool operator==(const Panel&) const = default;
};

struct Circuit {
  std::string name;
  std::optional<std::string> panel;  // the first when absent
  std::optional<int> space;
  std::vector<std::string> legs;  // overrides the leg of the space
  int poles = 1;
  std::optional<double> breaker_a;
  std::string protection = "standard";
  bool locked = false;
  Run run;  // panel, or end of the multiwire's shared run, to the first outlet
  std::optional<double> measured_amps = std::nullopt;  // each hot, read with a clamp at the panel

  bool operator==(const Circuit&) const = default;
};

struct Multiwire {
  std::string name;
  std::vector<std::string> circuits;
  std::optional<bool> common_disconnect;
  std::string neutral_joint = "unknown";
  Run run;  // the shared run, panel to first box

  bool operator==(const Multiwire&) const = default;
};

struct Outlet {
  std::string name;
  std::string on;  // a circuit or a multiwire
  std::optional<std::string> after;
  Run run;  // from the outlet upstream

  bool operator==(const Outlet&) const = default;
};

struct Load {
  std::string name;
  std::string at;  // an outlet, or a circuit (the end of its run)
  std::optional<std::string> circuit;
  std::optional<std::string> connect;  // "L-N", "L-L", "L1-N", "L1-L2"
  std::string kind = "plain";
  std::optional<double> watts;  // exactly one of these five
  std::optional<double> va;
  std::optional<double> amps;
  std::optional<double> ohms;
  std::optional<double> measured_amps;
  std::optional<double> volts;
  std::optional<double> power_factor;
  bool leading = false;
  bool on = true;
  std::string switching = "free";
  std::optional<std::string> noncoincident;
  std::optional<double> max_volts;
  std::map<std::string, double> spectrum;          // percent of the fundamental, "3" to "50"
  std::map<std::string, double> spectrum_degrees;  // arg(I_h) - h arg(V_1); 0 where absent
  std::optional<double> starting_amps;  // locked rotor, at `volts`; or by the next two
  std::optional<std::string> code_letter;
  std::optional<double> horsepower;
  std::optional<double> starting_power_factor;  // lagging
  std::optional<double> starts_per_hour;
  std::optional<std::string> demand;     // what a service calculation takes it for; its kind's
  std::optional<std::string> appliance;  // loads with one text here are parts of one appliance

  bool operator==(const Load&) const = default;
};

struct Scenario {
  std::string name;
  std::vector<std::string> on;          // either these loads at full share,
  std::map<std::string, double> share;  // or these at a share from 0 to 1

  bool operator==(const Scenario&) const = default;
};

struct Reading {
  std::string at;  // a panel or an outlet
  std::optional<std::string> label;
  std::optional<std::string> time;  // as in the description: 2026-03-14T10:20:00
  std::vector<std::string> on;      // the loads known to be on
  bool main_off = false;            // the main was off: nothing of this house draws
  std::optional<double> l1_n_volts;
  std::optional<double> l2_n_volts;
  std::optional<double> l3_n_volts;
  std::optional<double> l1_l2_volts;
  std::optional<double> l2_l3_volts;
  std::optional<double> l3_l1_volts;
  std::optional<double> l1_amps;
  std::optional<double> l2_amps;
  std::optional<double> l3_amps;
  std::optional<double> neutral_amps;
  std::optional<double> electrode_amps;
  std::optional<double> water_pipe_amps;
  std::optional<double> together_amps;  // a circuit's hot and neutral in one clamp
  std::optional<double> neutral_ground_volts;
  std::optional<double> l1_ground_volts;
  std::optional<double> l2_ground_volts;
  std::optional<double> l3_ground_volts;
  std::optional<double> joint_volts;  // across the suspect joint, under load
  std::optional<std::string> instrument;
  std::optional<std::string> meter_input;         // "high impedance" or "low impedance"
  std::optional<double> accuracy_percent;         // of the volts read, as the maker states it
  std::optional<double> accuracy_volts;           // and so many volts (its last digits)
  std::optional<double> amps_accuracy_percent;    // of the amperes read

  bool operator==(const Reading&) const = default;
};

// What the person on site saw; the tool's own findings are computed, never stored.
struct SiteFinding {
  std::optional<std::string> where;
  std::string observation;
  std::optional<std::string> implication;
  std::optional<std::string> recommendation;
  std::optional<std::string> urgency;

  bool operator==(const SiteFinding&) const = default;
};

using FreeText = std::map<std::string, std::string>;

struct House {
  FreeText about;  // [house]: "name" and whatever else goes on the report
  Supply supply;
  std::optional<Service> service;
  std::optional<Dwelling> dwelling;
  std::vector<Panel> panels;
  std::vector<Circuit> circuits;
  std::vector<Multiwire> multiwires;
  std::vector<Outlet> outlets;
  std::vector<Load> loads;
  std::vector<Scenario> scenarios;
  std::vector<Reading> readings;
  FreeText visit;
  std::vector<SiteFinding> findings;

  bool operator==(const House&) const = default;
};

// The house's name, "" when it has none yet.
[[nodiscard]] std::string name_of(const House& house);

}  // namespace evenleg
