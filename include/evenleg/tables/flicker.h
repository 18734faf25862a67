// Flicker: how severe changes of voltage are for the eye, as Pst, the short-term severity of ten
// minutes, which IEC 61000-3-3 limits to 1 for equipment. It is proportional to the size of changes.
//
// Two ways. The table of rectangular changes at even spacing that give Pst = 1 (data/flicker.toml),
// between its points on straight lines of the logarithms. And the analytical method of IEC
// 61000-3-3, clause 4.2.4 (formula from memory), for a lamp of 230 V:
//   t_f = 2.3 (F d)^3.2 seconds,   Pst = (sum of t_f / T)^(1/3.2),
// d the change in percent, F its shape factor, 1 for a step, T the period. It holds while more than
// 1 s lies between the end of one change and the start of the next; from 0.2 to 48 changes a minute
// it is within 5.3 % of the table (tests/published/flicker_table_test.cc). A lamp of 120 V takes
// about 1.16 times the change; change_on_230_volt_lamp() uses the table's own ratio.
// Units: percent of the voltage before, changes a minute, seconds.
#pragma once

#include <optional>
#include <span>

#include "evenleg/tables/motor_starting.h"

namespace evenleg {

enum class FlickerLamp { V230, V120 };  // 230 V, 50 Hz; 120 V, 60 Hz

// The lamp that stands for a system of so many volts to neutral: 120 V for all below 170 V.
[[nodiscard]] FlickerLamp lamp_for(double nominal_volts);

// The rectangular change that gives Pst = 1 at this rate; nothing outside the table's rates.
[[nodiscard]] std::optional<double> change_for_pst_1(const FlickerTables& tables, FlickerLamp lamp,
                                                     double changes_per_minute);
[[nodiscard]] std::optional<double> pst_by_table(const FlickerTables& tables, FlickerLamp lamp,
                                                 double change_percent, double changes_per_minute);
// The smallest entry of the table: a change below it gives Pst = 1 at no rate.
[[nodiscard]] double least_change_for_pst_1(const FlickerTables& tables, FlickerLamp lamp);

struct VoltageChange {
  double percent = 0;
  double shape_factor = 1;  // F
};

// t_f, seconds.
[[nodiscard]] double impression_seconds(double change_percent, double shape_factor = 1);
// Of these changes within the period, 600 s for Pst. Requires: they are more than 1 s apart.
[[nodiscard]] double analytical_pst(std::span<const VoltageChange> changes,
                                    double period_seconds = 600);
// Of equal steps at an even rate; whether they are as far apart as the formula asks.
[[nodiscard]] double analytical_pst(double change_percent, double changes_per_minute);
[[nodiscard]] bool spaced_for_formula(double changes_per_minute);

// The change that would trouble a 230 V lamp as much; as it is where the table has no such rate.
[[nodiscard]] double change_on_230_volt_lamp(const FlickerTables& tables, FlickerLamp lamp,
                                             double change_percent, double changes_per_minute);

// Each start counts as two rectangular changes, down and back up. Pst is of ten minutes, and an
// interval with a start has both, so that fewer than 6 starts an hour count as 0.2 changes a
// minute.
[[nodiscard]] double changes_per_minute_of_starts(double starts_per_hour);

}  // namespace evenleg
