#include "src/diagnose/read_network.h"

#include <Eigen/LU>

namespace evenleg {
namespace {

using Index = Eigen::Index;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// Rows and columns: the potentials of all wires' ends, then their currents.
struct Numbering {
  explicit Numbering(const std::vector<ReadPoint>& points) {
    for (const ReadPoint& point : points) {
      first.push_back(count);
      count += static_cast<Index>(point.wires.size());
    }
  }
  [[nodiscard]] Index volts(int point, int wire) const { return first[at(point)] + wire; }
  [[nodiscard]] Index amps(int point, int wire) const { return count + volts(point, wire); }

  std::vector<Index> first;
  Index count = 0;
};

void add_wires(const std::vector<ReadPoint>& points, const std::vector<Complex>& source,
               const PerWire& ohms, const Numbering& number, Matrix& a, Vector& b) {
  for (int p = 0; p < static_cast<int>(points.size()); ++p) {
    for (int w = 0; w <= points[at(p)].neutral(); ++w) {
      const Wire& wire = points[at(p)].wires[at(w)];
      const Index v = number.volts(p, w);
      const Index i = number.amps(p, w);
      a(i, v) = -1;
      a(i, i) = -ohms[at(p)][at(w)];
      a(v, i) += 1;
      if (wire.up_point >= 0) {
        a(i, number.volts(wire.up_point, wire.up_wire)) = 1;
        a(number.volts(wire.up_point, wire.up_wire), i) -= 1;
      } else if (wire.leg != kNeutral) {
        b(i) = -source[at(wire.leg)];
      }
    }
  }
}

void add_draws(const std::vector<Draw>& draws, const Numbering& number, Matrix& a) {
  for (const Draw& draw : draws) {
    const Index from = number.volts(draw.point, draw.from);
    const Index to = number.volts(draw.point, draw.to);
    a(from, from) -= draw.siemens;
    a(to, to) -= draw.siemens;
    a(from, to) += draw.siemens;
    a(to, from) += draw.siemens;
  }
}

}  // namespace

ReadState solve_points(const std::vector<ReadPoint>& points, const std::vector<Complex>& source,
                       const PerWire& ohms, const std::vector<Draw>& draws, double earth_siemens) {
  const Numbering number(points);
  Matrix a = Matrix::Zero(2 * number.count, 2 * number.count);
  Vector b = Vector::Zero(2 * number.count);
  add_wires(points, source, ohms, number, a, b);
  add_draws(draws, number, a);
  const Index neutral = number.volts(0, points.front().neutral());
  a(neutral, neutral) -= earth_siemens;
  const Vector x = a.partialPivLu().solve(b);
  ReadState state;
  for (int p = 0; p < static_cast<int>(points.size()); ++p) {
    const auto wires = static_cast<Index>(points[at(p)].wires.size());
    const auto volts = x.segment(number.volts(p, 0), wires);
    const auto amps = x.segment(number.amps(p, 0), wires);
    state.volts.emplace_back(volts.begin(), volts.end());
    state.amps.emplace_back(amps.begin(), amps.end());
  }
  return state;
}

}  // namespace evenleg
