// What the instruments showed, as volts between two wires of one point.
//
// Errors, as standard deviations: an error of the maker's limit, taken as equally likely anywhere
// within it, is the limit over √3 (JCGM 100:2008, Guide to the expression of uncertainty in
// measurement, 4.3.7; from memory). The stated percentage is one unknown gain for each instrument,
// the stated volts are each reading's own, and so is the display's last digit.
// Units: volts.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/diagnose/read_points.h"

namespace evenleg {

inline constexpr int kGround = -2;  // in place of a leg or a wire

// A voltage key of a reading: from a leg or kNeutral to a leg, kNeutral or kGround.
struct VoltsKey {
  std::string_view key;
  std::optional<double> Reading::*member;
  int from = 0;
  int to = 0;
};
[[nodiscard]] const std::vector<VoltsKey>& volts_keys();

struct AmpsKey {
  std::string_view key;
  std::optional<double> Reading::*member;
  int leg = 0;
};
[[nodiscard]] const std::vector<AmpsKey>& leg_amps_keys();
[[nodiscard]] bool has_clamped_legs(const Reading& reading);

// Nothing of the house is known to draw.
[[nodiscard]] bool is_without_load(const Reading& reading);

// Taken while a motor started: its label says so, or it shows a dip with the same loads on as
// another reading at the place that is more than kStartDip above it. Currents are then not those of
// the loads at rest.
[[nodiscard]] bool is_of_a_start(const std::vector<Reading>& readings, std::size_t reading);

struct Probe {
  int reading = 0;
  int point = 0;
  int from = 0;  // wires of the point; `to` may be kGround
  int to = 0;
  double volts = 0;
  double own_error = 0;   // standard deviation
  double gain_error = 0;  // volts by the instrument's gain, standard deviation
};

// Of all readings but those of a start; a value on a leg that the place does not have is left out.
[[nodiscard]] std::vector<Probe> probes_of(const std::vector<Reading>& readings,
                                           const ReadPoints& points);

// The probe of a key at a point, without volts; nothing where its wires do not come there, or where
// it says nothing (neutral to ground at the bond).
[[nodiscard]] std::optional<Probe> probe_at(const ReadPoints& points, int point,
                                            const VoltsKey& key);

// The smallest of 1, 0.1, 0.01, 0.001 V of which every voltage of the readings is a multiple; 0
// where there is none.
[[nodiscard]] double display_step(const std::vector<Reading>& readings);

}  // namespace evenleg
