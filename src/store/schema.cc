#include "src/store/schema.h"

#include <array>

namespace evenleg {
namespace {

// One table for each kind, named like it in the description ('.' as '_'); a column for each key
// that holds one value, a table KIND_KEY for each key that holds a list, with the list's owner in a
// column named like the kind. `position` keeps the order, from 0. Entries refer to each other by
// name, as in the description, so that a person with any SQLite tool can read a house; what may
// name one of two kinds ("on", "at") has no foreign key here and is checked in references.cc.
// Foreign keys wait for the end of the transaction, because a table is rewritten as a whole. Bounds
// that could move with time are checked in code (fields.cc); here stand the signs and the choices.
// STRICT holds SQLite to the types.
constexpr std::string_view kVersion1 = R"sql(
CREATE TABLE house (
  key TEXT PRIMARY KEY NOT NULL CHECK (key <> ''),
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE visit (
  key TEXT PRIMARY KEY NOT NULL CHECK (key <> ''),
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE supply (
  position INTEGER PRIMARY KEY CHECK (position = 0),
  system TEXT NOT NULL CHECK (system <> '')
) STRICT;
CREATE TABLE supply_volts (
  supply INTEGER NOT NULL REFERENCES supply (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item REAL NOT NULL CHECK (item > 0),
  PRIMARY KEY (supply, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE supply_transformer (
  position INTEGER PRIMARY KEY CHECK (position = 0)
    REFERENCES supply (position) DEFERRABLE INITIALLY DEFERRED,
  kva REAL CHECK (kva > 0),
  resistance_percent REAL CHECK (resistance_percent >= 0),
  reactance_percent REAL CHECK (reactance_percent >= 0)
) STRICT;

CREATE TABLE service (
  position INTEGER PRIMARY KEY CHECK (position = 0),
  breaker_a REAL CHECK (breaker_a > 0),
  conductor TEXT CHECK (conductor <> ''),
  neutral TEXT CHECK (neutral <> ''),
  length_ft REAL CHECK (length_ft >= 0),
  length_m REAL CHECK (length_m >= 0),
  hot_ohms REAL CHECK (hot_ohms >= 0),
  neutral_ohms REAL CHECK (neutral_ohms >= 0),
  earth_return_ohms REAL CHECK (earth_return_ohms >= 0)
) STRICT;

CREATE TABLE panel (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  spaces INTEGER NOT NULL CHECK (spaces > 0),
  neutral_loss_trip_volts REAL CHECK (neutral_loss_trip_volts > 0),
  fed_from TEXT REFERENCES panel (name) DEFERRABLE INITIALLY DEFERRED,
  breaker_a REAL CHECK (breaker_a > 0),
  conductor TEXT CHECK (conductor <> ''),
  neutral TEXT CHECK (neutral <> ''),
  length_ft REAL CHECK (length_ft >= 0),
  length_m REAL CHECK (length_m >= 0),
  hot_ohms REAL CHECK (hot_ohms >= 0),
  neutral_ohms REAL CHECK (neutral_ohms >= 0)
) STRICT;
CREATE TABLE panel_at_spaces (
  panel INTEGER NOT NULL REFERENCES panel (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item INTEGER NOT NULL CHECK (item > 0),
  PRIMARY KEY (panel, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE circuit (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  panel TEXT REFERENCES panel (name) DEFERRABLE INITIALLY DEFERRED,
  space INTEGER CHECK (space > 0),
  poles INTEGER NOT NULL CHECK (poles > 0),
  breaker_a REAL CHECK (breaker_a > 0),
  protection TEXT NOT NULL CHECK (protection IN ('standard', 'GFCI', 'AFCI', 'dual')),
  locked INTEGER NOT NULL CHECK (locked IN (0, 1)),
  conductor TEXT CHECK (conductor <> ''),
  neutral TEXT CHECK (neutral <> ''),
  length_ft REAL CHECK (length_ft >= 0),
  length_m REAL CHECK (length_m >= 0),
  hot_ohms REAL CHECK (hot_ohms >= 0),
  neutral_ohms REAL CHECK (neutral_ohms >= 0)
) STRICT;
CREATE TABLE circuit_legs (
  circuit INTEGER NOT NULL REFERENCES circuit (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item TEXT NOT NULL CHECK (item <> ''),
  PRIMARY KEY (circuit, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE multiwire (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  common_disconnect INTEGER CHECK (common_disconnect IN (0, 1)),
  neutral_joint TEXT NOT NULL CHECK (neutral_joint IN ('spliced', 'through devices', 'unknown')),
  conductor TEXT CHECK (conductor <> ''),
  neutral TEXT CHECK (neutral <> ''),
  length_ft REAL CHECK (length_ft >= 0),
  length_m REAL CHECK (length_m >= 0),
  hot_ohms REAL CHECK (hot_ohms >= 0),
  neutral_ohms REAL CHECK (neutral_ohms >= 0)
) STRICT;
CREATE TABLE multiwire_circuits (
  multiwire INTEGER NOT NULL REFERENCES multiwire (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item TEXT NOT NULL REFERENCES circuit (name) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (multiwire, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE outlet (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  "on" TEXT NOT NULL CHECK ("on" <> ''),
  after TEXT REFERENCES outlet (name) DEFERRABLE INITIALLY DEFERRED,
  conductor TEXT CHECK (conductor <> ''),
  neutral TEXT CHECK (neutral <> ''),
  length_ft REAL CHECK (length_ft >= 0),
  length_m REAL CHECK (length_m >= 0),
  hot_ohms REAL CHECK (hot_ohms >= 0),
  neutral_ohms REAL CHECK (neutral_ohms >= 0)
) STRICT;

CREATE TABLE load (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> ''),
  at TEXT NOT NULL CHECK (at <> ''),
  circuit TEXT REFERENCES circuit (name) DEFERRABLE INITIALLY DEFERRED,
  connect TEXT CHECK (connect <> ''),
  kind TEXT NOT NULL CHECK (kind <> ''),
  watts REAL CHECK (watts > 0),
  va REAL CHECK (va > 0),
  amps REAL CHECK (amps > 0),
  ohms REAL CHECK (ohms > 0),
  measured_amps REAL CHECK (measured_amps > 0),
  volts REAL CHECK (volts > 0),
  power_factor REAL CHECK (power_factor > 0),
  leading INTEGER NOT NULL CHECK (leading IN (0, 1)),
  "on" INTEGER NOT NULL CHECK ("on" IN (0, 1)),
  switching TEXT NOT NULL CHECK (switching IN ('free', 'always on', 'always off')),
  noncoincident TEXT CHECK (noncoincident <> ''),
  max_volts REAL CHECK (max_volts > 0)
) STRICT;

CREATE TABLE scenario (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> '')
) STRICT;
CREATE TABLE scenario_on (
  scenario INTEGER NOT NULL REFERENCES scenario (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item TEXT NOT NULL REFERENCES load (name) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (scenario, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE scenario_share (
  scenario INTEGER NOT NULL REFERENCES scenario (position) DEFERRABLE INITIALLY DEFERRED,
  item TEXT NOT NULL REFERENCES load (name) DEFERRABLE INITIALLY DEFERRED,
  share REAL NOT NULL CHECK (share >= 0),
  PRIMARY KEY (scenario, item)
) STRICT, WITHOUT ROWID;

CREATE TABLE reading (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  at TEXT NOT NULL CHECK (at <> ''),
  label TEXT CHECK (label <> ''),
  time TEXT CHECK (time <> ''),
  l1_n_volts REAL CHECK (l1_n_volts >= 0),
  l2_n_volts REAL CHECK (l2_n_volts >= 0),
  l1_l2_volts REAL CHECK (l1_l2_volts >= 0),
  l1_amps REAL CHECK (l1_amps >= 0),
  l2_amps REAL CHECK (l2_amps >= 0),
  neutral_amps REAL CHECK (neutral_amps >= 0),
  electrode_amps REAL CHECK (electrode_amps >= 0),
  water_pipe_amps REAL CHECK (water_pipe_amps >= 0),
  neutral_ground_volts REAL CHECK (neutral_ground_volts >= 0),
  instrument TEXT CHECK (instrument <> '')
) STRICT;
CREATE TABLE reading_on (
  reading INTEGER NOT NULL REFERENCES reading (position) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  item TEXT NOT NULL REFERENCES load (name) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (reading, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE finding (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  "where" TEXT CHECK ("where" <> ''),
  observation TEXT NOT NULL CHECK (observation <> ''),
  implication TEXT CHECK (implication <> ''),
  recommendation TEXT CHECK (recommendation <> ''),
  urgency TEXT CHECK (urgency IN ('now', 'soon', 'when convenient', 'for information'))
) STRICT;

CREATE INDEX panel_by_fed_from ON panel (fed_from);
CREATE INDEX circuit_by_panel ON circuit (panel);
CREATE INDEX multiwire_circuits_by_item ON multiwire_circuits (item);
CREATE INDEX outlet_by_after ON outlet (after);
CREATE INDEX load_by_circuit ON load (circuit);
CREATE INDEX scenario_on_by_item ON scenario_on (item);
CREATE INDEX scenario_share_by_item ON scenario_share (item);
CREATE INDEX reading_on_by_item ON reading_on (item);
)sql";

// What a load's current holds beside the fundamental, and how it starts.
constexpr std::string_view kVersion2 = R"sql(
ALTER TABLE load ADD COLUMN starting_amps REAL CHECK (starting_amps > 0);
ALTER TABLE load ADD COLUMN code_letter TEXT
  CHECK (code_letter IN ('A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'R',
                         'S', 'T', 'U', 'V'));
ALTER TABLE load ADD COLUMN horsepower REAL CHECK (horsepower > 0);
ALTER TABLE load ADD COLUMN starting_power_factor REAL CHECK (starting_power_factor > 0);
ALTER TABLE load ADD COLUMN starts_per_hour REAL CHECK (starts_per_hour > 0);

CREATE TABLE load_spectrum (
  load INTEGER NOT NULL REFERENCES load (position) DEFERRABLE INITIALLY DEFERRED,
  item TEXT NOT NULL CHECK (item <> ''),
  number REAL NOT NULL CHECK (number >= 0),
  PRIMARY KEY (load, item)
) STRICT, WITHOUT ROWID;
CREATE TABLE load_spectrum_degrees (
  load INTEGER NOT NULL REFERENCES load (position) DEFERRABLE INITIALLY DEFERRED,
  item TEXT NOT NULL CHECK (item <> ''),
  number REAL NOT NULL,
  PRIMARY KEY (load, item)
) STRICT, WITHOUT ROWID;
)sql";

// What a service calculation asks for, and what a clamp read on a circuit.
constexpr std::string_view kVersion3 = R"sql(
ALTER TABLE circuit ADD COLUMN measured_amps REAL CHECK (measured_amps > 0);
ALTER TABLE load ADD COLUMN demand TEXT
  CHECK (demand IN ('general', 'not counted', 'range', 'wall oven', 'cooktop', 'dryer',
                    'water heater', 'tankless water heater', 'fastened appliance', 'motor',
                    'pool or spa', 'EV charger', 'central heating', 'room heating',
                    'thermal storage heating', 'heat pump', 'heat pump supplement', 'cooling'));
ALTER TABLE load ADD COLUMN appliance TEXT CHECK (appliance <> '');
CREATE TABLE dwelling (
  position INTEGER PRIMARY KEY CHECK (position = 0),
  floor_area_ft2 REAL CHECK (floor_area_ft2 > 0),
  floor_area_m2 REAL CHECK (floor_area_m2 > 0),
  small_appliance_circuits INTEGER CHECK (small_appliance_circuits >= 0),
  laundry_circuits INTEGER CHECK (laundry_circuits >= 0),
  new_hvac INTEGER NOT NULL CHECK (new_hvac IN (0, 1)),
  recorded_demand_amps REAL CHECK (recorded_demand_amps > 0),
  recorded_period TEXT CHECK (recorded_period IN ('1 year', '30 days'))
) STRICT;
)sql";

// Plans of `evenleg balance` that were written into the house, so that each can be taken back: plan
// 0 is the oldest. A row is one key of one circuit or load as it was and as the plan made it. Names
// are those of that time: no foreign key, since a circuit that is renamed later is simply not
// found.
constexpr std::string_view kVersion4 = R"sql(
CREATE TABLE applied_plan (
  plan INTEGER NOT NULL CHECK (plan >= 0),
  position INTEGER NOT NULL CHECK (position >= 0),
  kind TEXT NOT NULL CHECK (kind IN ('circuit', 'load')),
  name TEXT NOT NULL CHECK (name <> ''),
  key TEXT NOT NULL CHECK (key IN ('space', 'legs', 'connect')),
  before TEXT CHECK (before <> ''),
  after TEXT CHECK (after <> ''),
  CHECK (before IS NOT after),
  PRIMARY KEY (plan, position)
) STRICT, WITHOUT ROWID;
)sql";

// What more an instrument can say: a third leg, volts to ground, a joint, the meter itself.
constexpr std::string_view kVersion5 = R"sql(
ALTER TABLE reading ADD COLUMN main_off INTEGER NOT NULL DEFAULT 0 CHECK (main_off IN (0, 1));
ALTER TABLE reading ADD COLUMN l3_n_volts REAL CHECK (l3_n_volts >= 0);
ALTER TABLE reading ADD COLUMN l2_l3_volts REAL CHECK (l2_l3_volts >= 0);
ALTER TABLE reading ADD COLUMN l3_l1_volts REAL CHECK (l3_l1_volts >= 0);
ALTER TABLE reading ADD COLUMN l3_amps REAL CHECK (l3_amps >= 0);
ALTER TABLE reading ADD COLUMN together_amps REAL CHECK (together_amps >= 0);
ALTER TABLE reading ADD COLUMN l1_ground_volts REAL CHECK (l1_ground_volts >= 0);
ALTER TABLE reading ADD COLUMN l2_ground_volts REAL CHECK (l2_ground_volts >= 0);
ALTER TABLE reading ADD COLUMN l3_ground_volts REAL CHECK (l3_ground_volts >= 0);
ALTER TABLE reading ADD COLUMN joint_volts REAL CHECK (joint_volts >= 0);
ALTER TABLE reading ADD COLUMN meter_input TEXT
  CHECK (meter_input IN ('high impedance', 'low impedance'));
ALTER TABLE reading ADD COLUMN accuracy_percent REAL CHECK (accuracy_percent >= 0);
ALTER TABLE reading ADD COLUMN accuracy_volts REAL CHECK (accuracy_volts >= 0);
ALTER TABLE reading ADD COLUMN amps_accuracy_percent REAL CHECK (amps_accuracy_percent >= 0);
)sql";

constexpr std::array<std::string_view, 5> kMigrations{kVersion1, kVersion2, kVersion3, kVersion4,
                                                      kVersion5};

}  // namespace

std::span<const std::string_view> migrations() { return kMigrations; }

}  // namespace evenleg
