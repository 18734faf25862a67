#include "tests/network/dense_engine.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

// Pivots of these scaled equations are some 1e-4 (a small lamp's siemens) where something holds a
// node, and rounding, some 1e-16, where nothing does.
constexpr double kNoPivot = 1e-12;
constexpr double kInKernel = 1e-8;

// Columns and rows in the order: nodes 1 and up, conductors, loads, source legs.
class Equations {
 public:
  explicit Equations(const CircuitElements& elements)
      : nodes_(elements.nodes - 1),
        conductors_(nodes_ + static_cast<Eigen::Index>(elements.conductors.size())),
        loads_(conductors_ + static_cast<Eigen::Index>(elements.loads.size())),
        size_(loads_ + static_cast<Eigen::Index>(elements.source.size())),
        a_(Matrix::Zero(size_, size_)),
        b_(Vector::Zero(size_)) {
    for (std::size_t i = 0; i < elements.conductors.size(); ++i) {
      const ConductorElement& element = elements.conductors[i];
      const Eigen::Index row = nodes_ + static_cast<Eigen::Index>(i);
      flow(row, element.from, element.to);
      if (element.removed) {
        a_(row, row) = 1;
        continue;
      }
      const double scale = std::max(1.0, std::abs(element.ohms));
      across(row, element.from, element.to, 1 / scale);
      a_(row, row) = -element.ohms / scale;
    }
    for (std::size_t i = 0; i < elements.loads.size(); ++i) {
      const LoadElement& element = elements.loads[i];
      const Eigen::Index row = conductors_ + static_cast<Eigen::Index>(i);
      const double scale = std::max(1.0, std::abs(element.siemens));
      flow(row, element.from, element.to);
      across(row, element.from, element.to, element.siemens / scale);
      a_(row, row) = -1 / scale;
    }
    for (std::size_t leg = 0; leg < elements.source.size(); ++leg) {
      const Eigen::Index row = loads_ + static_cast<Eigen::Index>(leg);
      flow(row, kSourceNeutral, elements.terminal[leg]);
      across(row, elements.terminal[leg], kSourceNeutral, 1);
      for (Eigen::Index b = 0; b < elements.source_impedance.cols(); ++b) {
        a_(row, loads_ + b) += elements.source_impedance(static_cast<Eigen::Index>(leg), b);
      }
      b_(row) = elements.source[leg];
    }
  }

  [[nodiscard]] DenseSolution solved() const {
    Eigen::FullPivLU<Matrix> lu(a_);
    lu.setThreshold(kNoPivot);
    const Vector x = lu.solve(b_);
    DenseSolution solution;
    solution.residual = (a_ * x - b_).cwiseAbs().maxCoeff();
    solution.volts = part(x, 0, nodes_);
    solution.volts.insert(solution.volts.begin(), Complex{});
    solution.conductor_amps = part(x, nodes_, conductors_);
    solution.load_amps = part(x, conductors_, loads_);
    solution.source_amps = part(x, loads_, size_);
    solution.open.assign(solution.volts.size(), false);
    if (lu.dimensionOfKernel() == 0) return solution;
    const Matrix kernel = lu.kernel();
    for (Eigen::Index n = 0; n < nodes_; ++n) {
      const double share = kernel.row(n).cwiseAbs().maxCoeff() / kernel.cwiseAbs().maxCoeff();
      solution.open[static_cast<std::size_t>(n + 1)] = share > kInKernel;
    }
    return solution;
  }

 private:
  // The current of unknown `column` leaves `from` and enters `to`.
  void flow(Eigen::Index column, int from, int to) {
    if (from != kSourceNeutral) a_(from - 1, column) += 1;
    if (to != kSourceNeutral) a_(to - 1, column) -= 1;
  }
  void across(Eigen::Index row, int from, int to, Complex factor) {
    if (from != kSourceNeutral) a_(row, from - 1) += factor;
    if (to != kSourceNeutral) a_(row, to - 1) -= factor;
  }
  static std::vector<Complex> part(const Vector& x, Eigen::Index begin, Eigen::Index end) {
    return {x.data() + begin, x.data() + end};
  }

  Eigen::Index nodes_, conductors_, loads_, size_;  // one past the last of each
  Matrix a_;
  Vector b_;
};

}  // namespace

DenseSolution solve_dense(const CircuitElements& elements) { return Equations(elements).solved(); }

}  // namespace evenleg
