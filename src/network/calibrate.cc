#include "src/network/calibrate.h"

#include <cmath>

#include "evenleg/network/solve.h"

namespace evenleg {

void calibrate_measured(const House& house, Model& model) {
  std::vector<std::size_t> measured;
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    LoadModel& load = model.loads[l];
    if (!house.loads[l].measured_amps) continue;
    const Complex turn = load.admittance / std::abs(load.admittance);
    load.admittance = *house.loads[l].measured_amps / load.nominal_volts * turn;
    if (load.on) measured.push_back(l);
  }
  if (measured.empty()) return;
  // Each round leaves an error of about the share of volts lost on the way times the last one, so a
  // sound house is done in five; the limit is for wiring that no meter would be read on.
  constexpr int kMostRounds = 200;
  constexpr double kSettled = 1e-13;
  for (int round = 0; round < kMostRounds; ++round) {
    const Solution solution = solve(model, admittances(model, on_as_found(model)));
    double change = 0;
    for (std::size_t l : measured) {
      const double volts = std::abs(solution.load_volts[l]);
      if (solution.status != SolveStatus::Solved || !(volts > 0)) return;
      const Complex y = model.loads[l].admittance;
      const Complex next = y / std::abs(y) * (*house.loads[l].measured_amps / volts);
      change = std::max(change, std::abs(next - y) / std::abs(y));
      model.loads[l].admittance = next;
    }
    if (change < kSettled) return;
  }
}

}  // namespace evenleg
