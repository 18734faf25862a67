// What the rest of the house sees when a motor starts, with the service neutral sound and degraded.
//
// The loads that are on as found run, without that motor and without those that never run with it
// (its noncoincident group); then the motor is added as the impedance of its locked rotor,
//   Z = V / I_start  at  arccos(starting power factor),
// V its nameplate volts. By code letter, NEC table 430.7(B), the upper end of the letter's range:
//   I_start = 1000 (kVA per hp) (hp) / V.
// The dip is the fall in percent of the volts before; negative where the volts rise. A start that
// pulls one leg down lifts the other by what it shifts the neutral: in a bad neutral that is most
// of it, so a rise ("dims and brightens", or "brightens only" where the fallen leg has nothing else
// to show it or falls less than is seen) is consistent with added resistance in a neutral that both
// legs use, while a service whose hots are weak only dims.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/audit/found_state.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct DipRow {
  std::string where;  // an outlet's name, a circuit's where the load sits on it, a panel's
  std::string legs;   // "L1-N", "L1-L2"
  Volts before;
  Volts during;
  double percent = 0;        // (before - during) / before
  bool motor_alone = false;  // nothing but the motor is connected there
  int terminals = 0;         // the same number for the same terminals in every state
};

enum class StartVerdict { NothingSeen, DimsOnly, BrightensOnly, DimsAndBrightens };
[[nodiscard]] std::string_view name_of(StartVerdict verdict);

// Flicker of the deepest change at an outlet where something else than the motor is connected.
struct StartFlicker {
  double changes_per_minute = 0;  // as counted, see flicker.h
  double change_percent = 0;
  bool rare = false;  // less than one change an hour: Pst is not applied, only the change limits
  std::optional<double> by_table;    // Pst
  std::optional<double> by_formula;  // Pst, for a 230 V lamp or its equivalent; absent: too close
};

struct StartState {
  Ohms added_neutral;           // in the service neutral
  Amps amps;                    // what the motor draws then
  std::vector<DipRow> outlets;  // largest change first
  std::vector<DipRow> legs;     // each leg of each panel, to its neutral, in the house's order
  double change_percent = 0;    // largest, up or down, where something else is connected
  std::vector<double> limits_passed;  // percents of FlickerTables::change_limits that it exceeds
  StartVerdict verdict = StartVerdict::NothingSeen;
  std::optional<StartFlicker> flicker;  // absent without starts_per_hour
};

struct MotorStart {
  int load = 0;
  Volts nameplate;
  Amps locked_rotor;      // at nameplate volts
  bool at_least = false;  // the code letter is open upwards: it may be more
  double power_factor = 0;
  double seen_from_percent = 0;  // smaller changes give Pst = 1 at no rate and count as not seen
  StartState sound;
  StartState degraded;
};

// The current of a locked rotor; nothing where the load has no starting data.
[[nodiscard]] std::optional<Amps> locked_rotor_amps(const Load& load, Volts nameplate,
                                                    const MotorStarting& starting);

// One for each load that has starting data and may run at all, in the house's order.
[[nodiscard]] std::vector<MotorStart> find_motor_starts(const FoundState& found);

}  // namespace evenleg
