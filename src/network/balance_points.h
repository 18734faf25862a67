// Shared by the search for balance points and the cascade: the equations of behaviour.h at one d.
#pragma once

#include <vector>

#include "evenleg/network/behaviour.h"
#include "src/network/behaviour_network.h"

namespace evenleg {

using Statuses = std::vector<LoadStatus>;  // of the ports

class Balance {
 public:
  Balance(const BehaviourNetwork& network, const std::vector<LoadBehaviour>& behaviours,
          double conductance)
      : network_(network), behaviours_(behaviours), conductance_(conductance) {}

  struct At {
    Complex left_over{};  // F
    Vector volts;         // ports
    Vector amps;
    bool settled = true;  // the ports' volts were found
  };
  // `from`, where not empty: volts to start the ports from. `within`, of the volts: how near.
  [[nodiscard]] At at(Complex d, const Statuses& statuses, const Vector& from = {},
                      double within = 1e-13) const;

  // -dF/dd as a real matrix, row by row.
  struct Slope {
    double xx = 0, xy = 0, yx = 0, yy = 0;
    [[nodiscard]] double determinant() const { return xx * yy - xy * yx; }
    [[nodiscard]] bool stable() const { return determinant() > 0 && xx + yy > 0; }
  };
  // By differences over `step` volts, the ports solved to `within`.
  [[nodiscard]] Slope slope(Complex d, const Statuses& statuses, const At& here,
                            double step = 1e-4, double within = 1e-13) const;

  // Newton's method with `found` divided out; nothing where it does not converge. `confined`: given
  // up where the volts leave far behind what the statuses allow.
  [[nodiscard]] std::optional<Complex> root(Complex start, const Statuses& statuses,
                                            const std::vector<Complex>& found = {},
                                            bool confined = false) const;

  [[nodiscard]] std::vector<BehavingLoad> loads(const At& here, Complex d,
                                                const Statuses& statuses) const;
  [[nodiscard]] const LoadBehaviour& port(std::size_t i) const {
    return behaviours_[static_cast<std::size_t>(network_.ports()[i])];
  }
  [[nodiscard]] std::size_t ports() const { return network_.ports().size(); }
  [[nodiscard]] const BehaviourNetwork& network() const { return network_; }
  [[nodiscard]] double conductance() const { return conductance_; }
  [[nodiscard]] bool consistent(const Vector& volts, const Statuses& statuses,
                                double slack = 1e-9) const;

 private:
  // The size of a port's volts from which its law is taken, `behind` them its own ohms.
  [[nodiscard]] double port_volts(std::size_t p, LoadStatus status, Complex behind, double last,
                                  double within) const;

  const BehaviourNetwork& network_;
  const std::vector<LoadBehaviour>& behaviours_;
  double conductance_;  // of what was added; 0: open
};

[[nodiscard]] std::vector<BalancePoint> balance_points(const Balance& balance, const Model& model,
                                                       bool& all_statuses);
[[nodiscard]] std::vector<CascadeStep> cascade(const Balance& balance);

}  // namespace evenleg
