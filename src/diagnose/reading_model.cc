#include "src/diagnose/reading_model.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "evenleg/base/index.h"
#include "evenleg/network/collapse.h"

namespace evenleg {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

// A clamped current is held by an admittance that follows the volts; each round shrinks its error
// by the drop in the wiring over the volts.
constexpr int kMostRounds = 30;
constexpr double kSettledVolts = 1e-10;

Complex potential(const ReadState& state, int point, int wire, int ground_wire) {
  return wire == kGround ? state.volts.front()[at(ground_wire)] : state.volts[at(point)][at(wire)];
}

std::vector<Draw> joined(std::vector<Draw> some, const std::vector<Draw>& others) {
  some.insert(some.end(), others.begin(), others.end());
  return some;
}

double largest_change(const ReadState& a, const ReadState& b) {
  double change = 0;
  for (std::size_t p = 0; p < a.volts.size(); ++p) {
    for (std::size_t w = 0; w < a.volts[p].size(); ++w) {
      change = std::max(change, std::abs(a.volts[p][w] - b.volts[p][w]));
    }
  }
  return change;
}

// The admittance that draws `amps` at these volts, at the angle that the known loads have there.
Complex holding(double amps, Complex volts, Complex amps_by_loads, Complex volts_by_loads) {
  constexpr double kNothing = 1e-9;  // amperes, volts
  if (std::abs(volts) < kNothing) return 0;
  const double size = amps / std::abs(volts);
  if (std::abs(amps_by_loads) < kNothing || std::abs(volts_by_loads) < kNothing) return size;
  return std::polar(size, std::arg(amps_by_loads / volts_by_loads));
}

}  // namespace

ReadingModel::ReadingModel(const House& house, const Model& model, const ReadPoints& points,
                           bool with_earth_return)
    : house_(house), model_(model), points_(points) {
  const auto& earth = model.earth_return_ohms;
  if (with_earth_return && earth && *earth > 0) earth_siemens_ = 1 / *earth;
  for (const ReadPoint& point : points.points) {
    first_.push_back(count_);
    if (point.on_the_way) count_ += static_cast<Index>(point.wires.size());
  }
}

Index ReadingModel::parameter(int point, int wire) const { return first_[at(point)] + wire; }

VectorXd ReadingModel::described() const {
  VectorXd all(count_);
  all(0) = std::abs(model_.source.front());
  for (int p = 0; p < static_cast<int>(points_.points.size()); ++p) {
    const ReadPoint& point = points_.points[at(p)];
    if (!point.on_the_way) continue;
    for (int w = 0; w <= point.neutral(); ++w) {
      all(parameter(p, w)) = point.wires[at(w)].expected.real();
    }
  }
  return all;
}

PerWire ReadingModel::ohms(const VectorXd& parameters) const {
  PerWire all;
  for (int p = 0; p < static_cast<int>(points_.points.size()); ++p) {
    const ReadPoint& point = points_.points[at(p)];
    all.emplace_back();
    for (int w = 0; w <= point.neutral(); ++w) {
      const Complex expected = point.wires[at(w)].expected;
      const double ohms = point.on_the_way ? parameters(parameter(p, w)) : expected.real();
      all.back().emplace_back(ohms, expected.imag());
    }
  }
  return all;
}

std::vector<Complex> ReadingModel::source(double volts) const {
  std::vector<Complex> all = model_.source;
  const double scale = volts / std::abs(model_.source.front());
  for (Complex& leg : all) leg *= scale;
  return all;
}

bool ReadingModel::is_below(int point, int top) const {
  for (int p = point; p >= 0; p = points_.points[at(p)].wires.back().up_point) {
    if (p == top) return true;
  }
  return false;
}

// A cable that was not read, as it shows itself at its panel.
void ReadingModel::add_cable(std::size_t cable, const std::vector<Complex>& siemens,
                             std::vector<Draw>& draws) const {
  const CableStart& start = points_.cables[cable];
  const CableReduction reduced(model_.cables[cable], model_.loads, siemens, std::nullopt);
  const CableMatrix& y = reduced.admittance();
  for (Index i = 0; i < y.rows(); ++i) {
    const auto one = static_cast<std::size_t>(i);
    const Complex to_neutral = y.row(i).sum();
    draws.push_back(
        {start.points[one], start.wires[one], start.neutral_point, start.neutral_wire, to_neutral});
    for (Index j = i + 1; j < y.cols(); ++j) {
      const auto two = static_cast<std::size_t>(j);
      draws.push_back(
          {start.points[one], start.wires[one], start.points[two], start.wires[two], -y(i, j)});
    }
  }
}

std::vector<Draw> ReadingModel::known_draws(const Reading& reading) const {
  std::vector<Draw> draws;
  if (reading.main_off) return draws;
  std::vector<Complex> unread(house_.loads.size());
  std::set<std::size_t> cables;
  for (const std::string& name : reading.on) {
    const auto load = std::find_if(house_.loads.begin(), house_.loads.end(),
                                   [&](const Load& one) { return one.name == name; });
    const auto l = static_cast<std::size_t>(load - house_.loads.begin());
    const LoadSpot& spot = points_.loads[l];
    const auto cable = static_cast<std::size_t>(model_.loads[l].cable);
    if (points_.cables[cable].read && spot.point >= 0) {
      draws.push_back({spot.point, spot.from, spot.point, spot.to, model_.loads[l].admittance});
    } else {
      unread[l] = model_.loads[l].admittance;
      cables.insert(cable);
    }
  }
  for (const std::size_t cable : cables) add_cable(cable, unread, draws);
  return draws;
}

void ReadingModel::clamp(const PlacedReading& placed, const ReadState& by_loads,
                         const ReadState& now, std::vector<Draw>& draws) const {
  const int p = placed.point;
  const ReadPoint& point = points_.points[at(p)];
  const int neutral = point.neutral();
  for (int w = 0; w < neutral; ++w) {
    const Wire& wire = point.wires[at(w)];
    const Complex drawn = by_loads.amps[at(p)][at(w)];
    const auto& member = leg_amps_keys()[at(wire.leg)].member;
    const bool first_of_leg = point.wire_of_leg(wire.leg) == w;
    const double amps =
        first_of_leg ? (placed.reading.*member).value_or(std::abs(drawn)) : std::abs(drawn);
    const Complex volts = now.volts[at(p)][at(w)] - now.volts[at(p)][at(neutral)];
    const Complex by = by_loads.volts[at(p)][at(w)] - by_loads.volts[at(p)][at(neutral)];
    draws.push_back({p, w, p, neutral, holding(amps, volts, drawn, by)});
  }
}

PlacedReading ReadingModel::place(const Reading& reading, int point) const {
  return {reading, point, known_draws(reading)};
}

ReadingModel::Settled ReadingModel::settled_draws(const std::vector<Complex>& volts,
                                                  const PerWire& ohms,
                                                  const PlacedReading& placed) const {
  Settled settled{placed.draws, {}};
  if (placed.reading.main_off || !has_clamped_legs(placed.reading)) return settled;
  const ReadState by_loads =
      PointNetwork(points_.points, ohms, settled.loads, earth_siemens_).state(volts);
  std::erase_if(settled.loads,
                [&](const Draw& draw) { return is_below(draw.from_point, placed.point); });
  ReadState now = by_loads;
  for (int round = 0; round < kMostRounds; ++round) {
    settled.clamped.clear();
    clamp(placed, by_loads, now, settled.clamped);
    ReadState next =
        PointNetwork(points_.points, ohms, joined(settled.loads, settled.clamped), earth_siemens_)
            .state(volts);
    const double change = largest_change(next, now);
    now = std::move(next);
    if (change < kSettledVolts) break;
  }
  return settled;
}

// The points on the ways of these probes. A wire elsewhere only turns its own loads' currents a
// little, which a fit does not have to feel.
std::set<int> ReadingModel::ways_of(const std::vector<Probe>& probes,
                                    const std::vector<std::size_t>& chosen) const {
  std::set<int> ways;
  std::vector<int> open;
  for (const std::size_t i : chosen) open.push_back(probes[i].point);
  while (!open.empty()) {
    const int p = open.back();
    open.pop_back();
    if (p < 0 || !ways.insert(p).second) continue;
    for (const Wire& wire : points_.points[at(p)].wires) open.push_back(wire.up_point);
  }
  return ways;
}

ReadState ReadingModel::state(const VectorXd& parameters, const PlacedReading& placed) const {
  const std::vector<Complex> volts = source(parameters(0));
  const PerWire z = ohms(parameters);
  const Settled settled = settled_draws(volts, z, placed);
  return PointNetwork(points_.points, z, joined(settled.loads, settled.clamped), earth_siemens_)
      .state(volts);
}

Linearized ReadingModel::linearize(const VectorXd& parameters,
                                   const std::vector<PlacedReading>& placed,
                                   const std::vector<Probe>& probes) const {
  Linearized result{VectorXd(static_cast<Index>(probes.size())),
                    Eigen::MatrixXd::Zero(static_cast<Index>(probes.size()), count_)};
  const std::vector<Complex> volts = source(parameters(0));
  const PerWire z = ohms(parameters);
  const int bond = points_.points.front().neutral();
  const auto across = [&](const ReadState& in, const Probe& probe) {
    return potential(in, probe.point, probe.from, bond) -
           potential(in, probe.point, probe.to, bond);
  };
  for (std::size_t r = 0; r < placed.size(); ++r) {
    std::vector<std::size_t> of_reading;
    for (std::size_t i = 0; i < probes.size(); ++i) {
      if (at(probes[i].reading) == r) of_reading.push_back(i);
    }
    if (of_reading.empty()) continue;
    const Settled settled = settled_draws(volts, z, placed[r]);
    const ReadState state =
        PointNetwork(points_.points, z, joined(settled.loads, settled.clamped), earth_siemens_)
            .state(volts);
    // Without what is clamped: a current that stays is no admittance to what moves.
    const PointNetwork moving(points_.points, z, settled.loads, earth_siemens_);
    const ReadState by_source = moving.state(volts);
    // d|v| is the part of dv along v; where v is nothing, its size.
    const auto slope = [](Complex v, Complex dv) {
      constexpr double kNothing = 1e-9;  // volts
      return std::abs(v) < kNothing ? std::abs(dv) : (std::conj(v) * dv).real() / std::abs(v);
    };
    for (const std::size_t i : of_reading) {
      const Complex v = across(state, probes[i]);
      result.volts(static_cast<Index>(i)) = std::abs(v);
      result.slopes(static_cast<Index>(i), 0) =
          slope(v, across(by_source, probes[i]) / parameters(0));
    }
    for (const int p : ways_of(probes, of_reading)) {
      for (int w = 0; w <= points_.points[at(p)].neutral(); ++w) {
        // One more ohm drops the wire's own current's worth of volts.
        const Complex amps = state.amps[at(p)][at(w)];
        const ReadState moved = moving.moved_by(p, w);
        for (const std::size_t i : of_reading) {
          result.slopes(static_cast<Index>(i), parameter(p, w)) =
              slope(across(state, probes[i]), amps * across(moved, probes[i]));
        }
      }
    }
  }
  return result;
}

}  // namespace evenleg
