// The house at its harmonic orders: what loads that are not linear send through its conductors.
//
// The fundamental is solved first, every load being its admittance (solve.h). At an order h > 1
// each load with a spectrum is a current source that draws
//   |I_h| = share |I_1|,   arg I_h = h arg V_1 + angle,
// V_1 and I_1 the fundamental volts across it and amperes through it: opposite legs of a
// split-phase service then differ by h times half a turn, the phases of a wye by h thirds of a
// turn. The sources of the supply are short-circuited behind their impedances. Conductors and
// transformer have R + jhX. A load without a spectrum stays linear: its admittance y is taken as R
// + jX in series, with the reactance hX where it lags and X/h where it leads. (A motor's own
// reactance at h is smaller, near that of its locked rotor; it then takes more of h than here and
// the conductors less.) A load with a spectrum has no admittance of its own at h. Nameplate and
// measured amperes count as the fundamental: where a low power factor comes from harmonics and not
// from a lag, rms amperes are on the high side. No load is linked to the volts at h: attenuation by
// distorted volts, which makes harmonics smaller than this, is not in it.
//
// Units: V, A, RMS; signs as in solve.h. Source of the method: current injection, as in J.
// Arrillaga, N. R. Watson, Power System Harmonics (reference from memory); checked by ngspice and
// by hand.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct HarmonicShare {
  int order = 0;     // 2 or more
  double share = 0;  // of the fundamental amperes
  double angle = 0;  // radians, arg(I_h) - h arg(V_1)
};

// Of one load, ascending in order; empty: it is linear.
using LoadSpectrum = std::vector<HarmonicShare>;

// Each load's spectrum: its own, else its kind's. Orders of 0 % are left out.
[[nodiscard]] std::vector<LoadSpectrum> spectra_of(const House& house, const Tables& tables);

struct HarmonicSolution {
  SolveStatus status = SolveStatus::NotRun;
  std::vector<int> orders;       // 1, then every order that a load which is on draws
  std::vector<Solution> states;  // by order
};

// `load_admittances` as for solve(). Requires: a fault, if any, is not open.
[[nodiscard]] HarmonicSolution solve_harmonics(const Model& model,
                                               const std::vector<Complex>& load_admittances,
                                               const std::vector<LoadSpectrum>& spectra,
                                               const std::optional<NeutralFault>& fault = {});

// One order alone, h > 1: the loads draw `drawn` amperes (one for each load of the model) beside
// what their admittances take. `load_admittances` are those of the fundamental.
[[nodiscard]] Solution solve_order(const Model& model, int order,
                                   const std::vector<Complex>& load_admittances,
                                   const std::vector<Complex>& drawn,
                                   const std::optional<NeutralFault>& fault = {});

// A linear load's admittance at that order.
[[nodiscard]] Complex admittance_at(int order, Complex fundamental);

// Root of the sum of squares.
[[nodiscard]] double total_rms(std::span<const double> by_order);
// Total harmonic distortion, a ratio: the orders above the first over the first. Nothing where
// there is (nearly) no fundamental to compare with.
[[nodiscard]] std::optional<double> distortion(std::span<const double> by_order);

}  // namespace evenleg
