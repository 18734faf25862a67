// Short names for the linear algebra inside the engine. Values are bare SI: volts, amperes, siemens,
// ohms, as RMS phasors (units/phasor.h). A matrix or vector of a cable has a row for each of its hots.
#pragma once

#include <Eigen/Core>
#include <complex>

namespace evenleg {

using Complex = std::complex<double>;

inline constexpr int kMostHots = 6;  // ungrounded conductors in one cable; validate() refuses more

using CableMatrix = Eigen::Matrix<Complex, Eigen::Dynamic, Eigen::Dynamic, 0, kMostHots, kMostHots>;
using CableVector = Eigen::Matrix<Complex, Eigen::Dynamic, 1, 0, kMostHots, 1>;
using Matrix = Eigen::MatrixXcd;
using Vector = Eigen::VectorXcd;

}  // namespace evenleg
