#include "src/diagnose/reading_model.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

// A clamped current is held by an admittance that follows the volts; each round shrinks its error by
// the drop in the wiring over the volts.
constexpr int kMostRounds = 30;
constexpr double kSettledVolts = 1e-10;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Complex potential(const ReadState& state, int point, int wire, int ground_wire) {
  return wire == kGround ? state.volts.front()[at(ground_wire)] : state.volts[at(point)][at(wire)];
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

ReadingModel::ReadingModel(const House& house, const Model& model, const ReadPoints& points)
    : house_(house), model_(model), points_(points) {
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

std::vector<Draw> ReadingModel::known_draws(const Reading& reading) const {
  std::vector<Draw> draws;
  if (reading.main_off) return draws;
  for (std::size_t l = 0; l < house_.loads.size(); ++l) {
    const bool on = std::count(reading.on.begin(), reading.on.end(), house_.loads[l].name) > 0;
    const Complex own = model_.loads[l].admittance;
    if (!on || own == Complex{}) continue;
    const LoadSpot& spot = points_.loads[l];
    draws.push_back({spot.point, spot.from, spot.to, 1.0 / (1.0 / own + spot.series)});
  }
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
    draws.push_back({p, w, neutral, holding(amps, volts, drawn, by)});
  }
}

ReadState ReadingModel::state(const VectorXd& parameters, const PlacedReading& placed) const {
  const std::vector<Complex> volts = source(parameters(0));
  const PerWire z = ohms(parameters);
  const double earth =
      model_.earth_return_ohms && *model_.earth_return_ohms > 0 ? 1 / *model_.earth_return_ohms : 0;
  std::vector<Draw> draws = known_draws(placed.reading);
  const ReadState by_loads = solve_points(points_.points, volts, z, draws, earth);
  if (placed.reading.main_off || !has_clamped_legs(placed.reading)) return by_loads;
  std::erase_if(draws, [&](const Draw& draw) { return is_below(draw.point, placed.point); });
  ReadState now = by_loads;
  for (int round = 0; round < kMostRounds; ++round) {
    std::vector<Draw> all = draws;
    clamp(placed, by_loads, now, all);
    ReadState next = solve_points(points_.points, volts, z, all, earth);
    const double change = largest_change(next, now);
    now = std::move(next);
    if (change < kSettledVolts) break;
  }
  return now;
}

VectorXd ReadingModel::predict(const VectorXd& parameters,
                               const std::vector<PlacedReading>& placed,
                               const std::vector<Probe>& probes) const {
  std::vector<ReadState> states;
  for (const PlacedReading& one : placed) states.push_back(state(parameters, one));
  const int bond = points_.points.front().neutral();
  VectorXd volts(static_cast<Index>(probes.size()));
  for (std::size_t i = 0; i < probes.size(); ++i) {
    const Probe& probe = probes[i];
    const ReadState& in = states[at(probe.reading)];
    volts(static_cast<Index>(i)) = std::abs(potential(in, probe.point, probe.from, bond) -
                                            potential(in, probe.point, probe.to, bond));
  }
  return volts;
}

}  // namespace evenleg
