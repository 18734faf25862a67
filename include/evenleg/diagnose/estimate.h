// Source volts and the resistance of each conductor, from the readings of a visit.
//
// One least-squares fit over all readings. At one place on a split-phase service it is
//   V1 = E - R1 I1 - RN (I1 - I2),   V2 = E - R2 I2 - RN (I2 - I1),   V12 = V1 + V2;
// other systems and several places are the same with phasors and a resistance for each section
// between places read. Currents are those clamped, else of the loads that were on. Expected: the
// conductor tables' resistance of the described runs at working temperature (75 °C for AWG), so
// that a sound cool conductor reads below it. The transformer, where it is described, is set apart:
// it is upstream too. The service's neutral is what the meter sees: the conductor and whatever
// returns beside it. Standard errors: src/diagnose/fit.h. Units: V, A, Ω. Sources: circuit laws;
// JCGM 100:2008 for the errors (from memory).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"

namespace evenleg {

// A conductor stands out when its excess, less the least excess of the others of its section (what
// nobody described upstream adds to all alike), is more than half of what is expected and more than
// 0.03 Ω, or when its excess alone is more than 0.1 Ω; and more than four standard errors in either
// case. Without a described run it is held against the others, and stands out when it has more than
// twice as much as they, and 0.05 Ω more (neutrals run to half the size of the hots). All of it is
// judgement.
struct ConductorEstimate {
  // "L1", "N"; where that is all that was told "L1 and N", the two in series, or "L1 to ground",
  // the hot with the service's neutral in series.
  std::string conductor;
  double ohms = 0;
  double standard_error = 0;
  std::optional<double> expected_ohms;  // of the run; absent where none is described
  double transformer_ohms = 0;          // of the described transformer, in this conductor's place
  // Measured less what run and transformer account for, or less the largest of the others of the
  // section; absent where there is nothing to hold it against.
  std::optional<double> excess_ohms;
  bool stands_out = false;

  [[nodiscard]] bool alone() const { return conductor.find(" and ") == std::string::npos; }
};

enum class SectionKind { Service, Feeder, Branch };

// What lies between two places read, or between the source and the first of them.
struct SectionEstimate {
  SectionKind kind = SectionKind::Service;
  std::string from;         // a place; "" for the source
  std::string to;           // a place; or the box where a multiwire parts: `box of "Kitchen"`
  std::string cable;        // of a branch: its circuit or multiwire
  bool multiwire = false;   // of a branch: on the length with the shared neutral
  bool from_panel = false;  // of a branch: it begins at a panel or further up
  std::vector<ConductorEstimate> conductors;  // hots, then N, then what is told only together

  [[nodiscard]] const ConductorEstimate* find(const std::string& conductor) const;
};

// What a section still lacks, and the fewest readings that would tell it.
struct MissingReadings {
  std::string place;
  std::vector<std::string> conductors;  // not told apart yet
  std::vector<std::string> take;  // "at Main with nothing on"; empty: no reading there would do
};

struct Misfit {
  int reading = 0;
  std::string key;
  double volts = 0;  // as read
  double predicted = 0;
};

// A voltage as read, beside what the circuit shows there with the fitted resistances and with those
// of the described runs, both from the fitted source volts.
struct ReadVolts {
  int reading = 0;
  std::string key;  // "l1_n_volts"
  double volts = 0;
  double fitted = 0;
  double expected = 0;
};

struct Estimation {
  std::string model;  // "three-wire", "two legs of a wye", "four-wire wye", "two-wire"
  std::optional<double> source_volts;  // of the first leg
  std::optional<double> source_standard_error;
  std::vector<SectionEstimate> sections;
  std::vector<MissingReadings> missing;
  int readings_used = 0;
  int values_used = 0;
  double residual_volts = 0;  // root mean square
  bool accuracy_stated = false;
  double display_step = 0;       // volts that the display seems to resolve; 0 unknown
  std::vector<ReadVolts> volts;  // those that were used
  std::vector<Misfit> misfits;   // far beyond the residuals of the others
  std::vector<Misfit> left_out;  // no resistance explains them while nothing is known to draw

  // The section that ends at the first panel, or at the place with the most readings.
  [[nodiscard]] const SectionEstimate* main_section(const House& house) const;
};

// Requires: a valid house, its wiring and its model.
[[nodiscard]] Estimation estimate_from_readings(const House& house, const Wiring& wiring,
                                                const Model& model);

}  // namespace evenleg
