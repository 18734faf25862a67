// The house as impedances: what the engine solves.
//
// Source: ideal leg voltages E against the source's neutral, behind Zs (ohms, legs by legs):
//   terminal volts = E - Zs i, i the leg currents out of the source.
// A split-phase transformer of S volt-amperes, R and X per unit, has Z0 = 0.5 R + j 0.8 X in common and
// Z = R + j 0.4 X in each half, all on V²/S of a half (V the system's nominal leg voltage), so
//   Zs = [Z + Z0, -Z0; -Z0, Z + Z0],
// and leg to leg it shows R + jX on the base of both halves (the usual model of an interlaced winding;
// W. H. Kersting, Distribution System Modeling and Analysis, ch. 11, example 11.1, checks it). A wye
// has R + jX in each phase on V²/(S/3).
//
// Runs: a series impedance for each hot and one for the neutral; conductors do not couple. Loads:
// constant admittance y = conj(S)/V² of the nameplate; a measured load is what draws its amperes in the
// house as found (calibrate_measured).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/linear.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct RunImpedance {
  Complex hot{};      // ohms, each hot
  Complex neutral{};  // ohms

  bool operator==(const RunImpedance&) const = default;
};

struct PanelModel {
  int fed_from = -1;
  std::vector<int> legs;
  RunImpedance run;  // the service for panel 0, else its feeder
};

struct BoxModel {
  int upstream = -1;
  std::vector<int> hots;  // of the cable, ascending
  RunImpedance run;
  std::vector<int> loads;
};

struct CableModel {
  std::vector<Hot> hots;
  int neutral_panel = 0;
  std::vector<BoxModel> boxes;  // each after the one upstream of it; box 0 is the panel end
  std::vector<int> loads;
};

struct LoadModel {
  int cable = 0;
  int box = 0;
  int from = 0;
  int to = kNeutral;
  Complex admittance{};  // siemens, when on
  double nominal_volts = 0;       // of its connection
  double nominal_volt_amps = 0;   // nameplate
  bool on = true;                 // as found
};

struct Model {
  std::vector<Complex> source;  // E, volts
  Matrix source_impedance;      // Zs, ohms
  std::optional<double> earth_return_ohms;
  std::vector<PanelModel> panels;
  std::vector<CableModel> cables;
  std::vector<LoadModel> loads;
};

// Requires: a valid house, its wiring, and tables that know its conductors and kinds.
[[nodiscard]] Model build_model(const House& house, const Wiring& wiring, const Tables& tables);

// A run's impedance; none where it has neither conductor and length nor measured resistances.
[[nodiscard]] RunImpedance impedance_of(const Run& run, const Tables& tables);

// Zs of the supply, zero without a transformer.
[[nodiscard]] Matrix source_impedance_of(const Supply& supply, const SupplySystem& system);

// Each load's admittance, zero for those that are off.
[[nodiscard]] std::vector<Complex> admittances(const Model& model, const std::vector<bool>& on);
[[nodiscard]] std::vector<bool> on_as_found(const Model& model);

}  // namespace evenleg
