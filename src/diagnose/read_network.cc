#include "src/diagnose/read_network.h"

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

using Entry = Eigen::Triplet<Complex>;

}  // namespace

PointNetwork::Index PointNetwork::volts(int point, int wire) const {
  return first_[at(point)] + wire;
}

PointNetwork::PointNetwork(const std::vector<ReadPoint>& points, const PerWire& ohms,
                           const std::vector<Draw>& draws, double earth_siemens)
    : points_(points) {
  for (const ReadPoint& point : points) {
    first_.push_back(count_);
    count_ += static_cast<Index>(point.wires.size());
  }
  std::vector<Entry> entries;
  const auto add = [&](Index row, Index column, Complex value) {
    entries.emplace_back(static_cast<int>(row), static_cast<int>(column), value);
  };
  for (int p = 0; p < static_cast<int>(points.size()); ++p) {
    for (int w = 0; w <= points[at(p)].neutral(); ++w) {
      const Wire& wire = points[at(p)].wires[at(w)];
      add(amps(p, w), volts(p, w), -1.0);
      add(amps(p, w), amps(p, w), -ohms[at(p)][at(w)]);
      add(volts(p, w), amps(p, w), 1.0);
      if (wire.up_point < 0) continue;
      add(amps(p, w), volts(wire.up_point, wire.up_wire), 1.0);
      add(volts(wire.up_point, wire.up_wire), amps(p, w), -1.0);
    }
  }
  for (const Draw& draw : draws) {
    const Index from = volts(draw.from_point, draw.from);
    const Index to = volts(draw.to_point, draw.to);
    add(from, from, -draw.siemens);
    add(to, to, -draw.siemens);
    add(from, to, draw.siemens);
    add(to, from, draw.siemens);
  }
  const Index neutral = volts(0, points.front().neutral());
  add(neutral, neutral, -earth_siemens);
  Eigen::SparseMatrix<Complex> a(2 * count_, 2 * count_);
  a.setFromTriplets(entries.begin(), entries.end());
  lu_ = std::make_unique<Eigen::SparseLU<Eigen::SparseMatrix<Complex>>>(a);
}

ReadState PointNetwork::unpacked(const Vector& x) const {
  ReadState state;
  for (int p = 0; p < static_cast<int>(points_.size()); ++p) {
    const auto wires = static_cast<Index>(points_[at(p)].wires.size());
    const auto potentials = x.segment(volts(p, 0), wires);
    const auto currents = x.segment(amps(p, 0), wires);
    state.volts.emplace_back(potentials.begin(), potentials.end());
    state.amps.emplace_back(currents.begin(), currents.end());
  }
  return state;
}

ReadState PointNetwork::state(const std::vector<Complex>& source) const {
  Vector b = Vector::Zero(2 * count_);
  for (int p = 0; p < static_cast<int>(points_.size()); ++p) {
    for (int w = 0; w < points_[at(p)].neutral(); ++w) {
      const Wire& wire = points_[at(p)].wires[at(w)];
      if (wire.up_point < 0) b(amps(p, w)) = -source[at(wire.leg)];
    }
  }
  return unpacked(lu_->solve(b));
}

ReadState PointNetwork::moved_by(int point, int wire) const {
  Vector b = Vector::Zero(2 * count_);
  b(amps(point, wire)) = 1;
  return unpacked(lu_->solve(b));
}

}  // namespace evenleg
