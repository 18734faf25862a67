// The volts at the points of a house (read_points.h) for given wires and loads, and how they would
// move.
//
// Equations of both potentials and wire currents, so that a wire may have any resistance, none and
// the slightly negative one of a noisy estimate among them:
//   v_up - v - Z i = 0 along each wire,   i - (currents on from there) - (loads) = 0 at its end,
// by Eigen's sparse LU. With the loads held as admittances, one more volt in series with a wire
// moves everything by a column of the inverse, so that all derivatives by resistance cost one
// solution each. Units: V, A, Ω, S, RMS phasors against the source's neutral. Sign: i flows away
// from the source, in the neutral too.
#pragma once

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <memory>
#include <vector>

#include "src/diagnose/read_points.h"

namespace evenleg {

struct Draw {
  int from_point = 0;
  int from = 0;  // wire of from_point
  int to_point = 0;
  int to = 0;
  Complex siemens{};
};

// [point][wire]
using PerWire = std::vector<std::vector<Complex>>;

struct ReadState {
  PerWire volts;
  PerWire amps;
};

class PointNetwork {
 public:
  // `earth_siemens`: from the first panel's neutral back to the source's, beside the service
  // neutral. `points` must outlive it.
  PointNetwork(const std::vector<ReadPoint>& points, const PerWire& ohms,
               const std::vector<Draw>& draws, double earth_siemens);

  // `source`: volts of each supply leg.
  [[nodiscard]] ReadState state(const std::vector<Complex>& source) const;
  // What one volt in series with a wire, against its current, would move.
  [[nodiscard]] ReadState moved_by(int point, int wire) const;

 private:
  using Index = Eigen::Index;
  [[nodiscard]] Index volts(int point, int wire) const;
  [[nodiscard]] Index amps(int point, int wire) const { return count_ + volts(point, wire); }
  [[nodiscard]] ReadState unpacked(const Vector& x) const;

  const std::vector<ReadPoint>& points_;
  std::vector<Index> first_;
  Index count_ = 0;
  std::unique_ptr<Eigen::SparseLU<Eigen::SparseMatrix<Complex>>> lu_;
};

}  // namespace evenleg
