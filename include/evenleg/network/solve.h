// The volts and amperes of a whole house in one state, by two engines.
//
// solve() collapses each cable, solves the panels and expands again: exact elimination, linear in the
// house's size. solve_sparse() builds the nodal equations Y v = i of every conductor at every box and
// gives them to Eigen's sparse LU: the second opinion. Both merge nodes that no impedance parts, hold
// the ideal source fixed, and leave a part that nothing connects to the source `isolated`.
//
// Units: V, A, Ω, S; RMS phasors, the source's neutral is 0 V. Sign: leg currents leave the source,
// neutral currents return to it, a load's current flows from its first end to its second.
// Accuracy: agreement of the engines on random houses is tested to 1e-9 of the source's volts.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "evenleg/network/model.h"
#include "evenleg/network/places.h"

namespace evenleg {

enum class SolveStatus {
  NotRun,    // nobody called the engine
  Solved,
  Singular,    // the equations have no single answer
  Inaccurate,  // an answer that leaves some equation with an error beyond kMostResidual
};
[[nodiscard]] std::string_view sentence(SolveStatus status);

// Of Kirchhoff's equations: volts over the source's, amperes over all that the loads draw. At 120 V
// it is 0.12 mV, a hundredth of what a good meter shows.
inline constexpr double kMostResidual = 1e-6;

struct PanelState {
  std::vector<Complex> hot;  // potential of each leg on its bus, in the order of PanelModel::legs
  Complex neutral{};         // potential of its neutral bus
  bool isolated = false;     // the neutral bus hangs on nothing
  std::vector<Complex> hot_amps;  // into the panel through its service or feeder, by leg
  Complex neutral_amps{};         // back through that run's neutral (service: and the earth return)
};

struct BoxState {
  std::vector<Complex> hot;  // potential of each hot of the cable; unused where it does not reach
  Complex neutral{};
  bool isolated = false;
  Complex neutral_amps{};  // back through the length that ends at this box
};

struct Solution {
  SolveStatus status = SolveStatus::NotRun;
  double residual = 0;  // the largest error in an equation, as kMostResidual
  std::vector<PanelState> panels;
  std::vector<std::vector<BoxState>> boxes;  // [cable][box]
  std::vector<Complex> load_volts;           // across each load, from its first end to its second
  std::vector<Complex> load_amps;            // zero for loads that are off
  Complex service_neutral_amps{};            // in the conductor alone
  Complex earth_return_amps{};
};

// `load_admittances`: siemens, one for each load of the model, zero where it is off.
[[nodiscard]] Solution solve(const Model& model, const std::vector<Complex>& load_admittances,
                             const std::optional<NeutralFault>& fault = std::nullopt);
[[nodiscard]] Solution solve_sparse(const Model& model,
                                    const std::vector<Complex>& load_admittances,
                                    const std::optional<NeutralFault>& fault = std::nullopt);

}  // namespace evenleg
