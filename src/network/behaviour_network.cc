#include "src/network/behaviour_network.h"

#include <Eigen/LU>
#include <algorithm>

#include "evenleg/base/index.h"
#include "evenleg/network/panel_system.h"

namespace evenleg {
namespace {

using Index = Eigen::Index;

constexpr Index kFewPorts = 16;  // up to here an elimination costs no more than rounds

Index row(std::size_t i) { return static_cast<Index>(i); }

// A conductor on a load's way, and the direction in which the load's current takes it.
struct Step {
  int conductor = 0;
  double sign = 1;
};

struct Way {
  std::vector<Step> steps;  // ascending in conductor
  int from_leg = 0;
  int to_leg = kNeutral;
  bool crosses = false;
};

// Numbers every conductor of the house: panels' hots and neutrals, then cables' lengths.
class Conductors {
 public:
  Conductors(const Model& model, const Place& place) : model_(model), place_(place) {
    legs_ = static_cast<int>(model.source.size());
    for (const PanelModel& panel : model.panels) {
      for (int leg = 0; leg < legs_; ++leg) ohms_.push_back(panel.run.hot);
      ohms_.push_back(panel.run.neutral);
    }
    if (model.earth_return_ohms) {
      Complex& z = ohms_[at(legs_)];
      z = z == Complex{} ? Complex{}
                         : z * *model.earth_return_ohms / (z + *model.earth_return_ohms);
    }
    for (const CableModel& cable : model.cables) {
      first_.push_back(static_cast<int>(ohms_.size()));
      for (const BoxModel& box : cable.boxes) {
        for (std::size_t h = 0; h < cable.hots.size(); ++h) ohms_.push_back(box.run.hot);
        ohms_.push_back(box.run.neutral);
      }
    }
  }

  [[nodiscard]] Complex ohms(int conductor) const { return ohms_[at(conductor)]; }
  [[nodiscard]] std::size_t count() const { return ohms_.size(); }

  [[nodiscard]] Way way_of(const LoadModel& load) const {
    Way way;
    const CableModel& cable = model_.cables[at(load.cable)];
    way.from_leg = take_hot(load, load.from, 1, way);
    if (load.to != kNeutral) {
      way.to_leg = take_hot(load, load.to, -1, way);
    } else {
      take_neutral(load, cable, way);
    }
    std::sort(way.steps.begin(), way.steps.end(),
              [](const Step& a, const Step& b) { return a.conductor < b.conductor; });
    return way;
  }

 private:
  int take_hot(const LoadModel& load, int hot, double sign, Way& way) const {
    const CableModel& cable = model_.cables[at(load.cable)];
    const int width = static_cast<int>(cable.hots.size()) + 1;
    for (int b = load.box; b > 0; b = cable.boxes[at(b)].upstream) {
      way.steps.push_back({first_[at(load.cable)] + b * width + hot, sign});
    }
    const Hot& from = cable.hots[at(hot)];
    for (int panel : path_to_source(model_, from.panel)) {
      way.steps.push_back({panel * (legs_ + 1) + from.leg, sign});
    }
    return from.leg;
  }

  void take_neutral(const LoadModel& load, const CableModel& cable, Way& way) const {
    const int width = static_cast<int>(cable.hots.size()) + 1;
    for (int b = load.box; b > 0; b = cable.boxes[at(b)].upstream) {
      way.steps.push_back({first_[at(load.cable)] + b * width + width - 1, 1});
      if (place_.cable == load.cable && place_.box == b) way.crosses = true;
    }
    for (int panel : path_to_source(model_, cable.neutral_panel)) {
      way.steps.push_back({panel * (legs_ + 1) + legs_, 1});
      if (!in_cable(place_) && place_.panel == panel) way.crosses = true;
    }
  }

  const Model& model_;
  const Place& place_;
  int legs_ = 0;
  std::vector<Complex> ohms_;
  std::vector<int> first_;  // by cable
};

Complex shared_ohms(const Model& model, const Conductors& conductors, const Way& a, const Way& b) {
  Complex z{};
  for (std::size_t i = 0, j = 0; i < a.steps.size() && j < b.steps.size();) {
    const int left = a.steps[i].conductor;
    const int right = b.steps[j].conductor;
    if (left == right) z += a.steps[i].sign * b.steps[j].sign * conductors.ohms(left);
    if (left <= right) ++i;
    if (right <= left) ++j;
  }
  z += model.source_impedance(a.from_leg, b.from_leg);
  if (a.to_leg != kNeutral) z -= model.source_impedance(a.to_leg, b.from_leg);
  if (b.to_leg != kNeutral) z -= model.source_impedance(a.from_leg, b.to_leg);
  if (a.to_leg != kNeutral && b.to_leg != kNeutral) {
    z += model.source_impedance(a.to_leg, b.to_leg);
  }
  return z;
}

Matrix ohms_between(const Model& model, const Conductors& conductors, const std::vector<Way>& a,
                    const std::vector<Way>& b) {
  Matrix z(row(a.size()), row(b.size()));
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) {
      z(row(i), row(j)) = shared_ohms(model, conductors, a[i], b[j]);
    }
  }
  return z;
}

using RowMajor = Eigen::Matrix<Complex, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// ohms_between(ways, ways) * amps, a column for each case, conductor by conductor: linear in the
// house.
RowMajor drops(const Model& model, const Conductors& conductors, const std::vector<Way>& ways,
               const RowMajor& amps) {
  RowMajor along = RowMajor::Zero(row(conductors.count()), amps.cols());
  RowMajor legs = RowMajor::Zero(row(model.source.size()), amps.cols());
  for (std::size_t i = 0; i < ways.size(); ++i) {
    for (const Step& s : ways[i].steps) along.row(s.conductor) += s.sign * amps.row(row(i));
    legs.row(ways[i].from_leg) += amps.row(row(i));
    if (ways[i].to_leg != kNeutral) legs.row(ways[i].to_leg) -= amps.row(row(i));
  }
  for (std::size_t c = 0; c < conductors.count(); ++c) {
    along.row(row(c)) *= conductors.ohms(static_cast<int>(c));
  }
  legs = (model.source_impedance * legs).eval();
  RowMajor volts = RowMajor::Zero(amps.rows(), amps.cols());
  for (std::size_t i = 0; i < ways.size(); ++i) {
    for (const Step& s : ways[i].steps) volts.row(row(i)) += s.sign * along.row(s.conductor);
    volts.row(row(i)) += legs.row(ways[i].from_leg);
    if (ways[i].to_leg != kNeutral) volts.row(row(i)) -= legs.row(ways[i].to_leg);
  }
  return volts;
}

// V of V = open - Z y V. In a house the wiring's drops are a small part of the volts, so that
// taking them from the last round's currents settles soon, to rounding; where it does not, by
// elimination.
Matrix behind_wiring(const Model& model, const Conductors& conductors, const std::vector<Way>& ways,
                     const Vector& y, const Matrix& open) {
  constexpr int kMostRounds = 60;
  constexpr double kSettled = 1e-14;  // of the largest entry
  RowMajor volts = open;
  const double settled = kSettled * open.cwiseAbs().maxCoeff();
  for (int round = 0; round < kMostRounds; ++round) {
    RowMajor next = open - drops(model, conductors, ways, y.asDiagonal() * volts);
    const double change = (next - volts).cwiseAbs().maxCoeff();
    volts = std::move(next);
    if (change <= settled) return volts;
  }
  const Index n = y.size();
  const Matrix system = Matrix::Identity(n, n) +
                        ohms_between(model, conductors, ways, ways) * y.asDiagonal();
  return system.partialPivLu().solve(open);
}

Vector source_volts(const Model& model, const std::vector<Way>& ways) {
  Vector e(row(ways.size()));
  for (std::size_t i = 0; i < ways.size(); ++i) {
    e(row(i)) = model.source[at(ways[i].from_leg)];
    if (ways[i].to_leg != kNeutral) e(row(i)) -= model.source[at(ways[i].to_leg)];
  }
  return e;
}

Vector crossing(const std::vector<Way>& ways) {
  Vector b(row(ways.size()));
  for (std::size_t i = 0; i < ways.size(); ++i) b(row(i)) = ways[i].crosses ? 1 : 0;
  return b;
}

}  // namespace

BehaviourNetwork::BehaviourNetwork(const Model& model, const std::vector<LoadBehaviour>& behaviours,
                                   const Place& place, const std::vector<bool>& on) {
  const Conductors conductors(model, place);
  std::vector<Way> port_ways, other_ways;
  std::vector<int> others;
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    if (!on[l]) continue;
    Way way = conductors.way_of(model.loads[l]);
    const int load = static_cast<int>(l);
    if (way.crosses) {
      beyond_.push_back(load);
      const Complex pole = model.source[at(way.from_leg)];
      if (std::find(poles_.begin(), poles_.end(), pole) == poles_.end()) poles_.push_back(pole);
    }
    const bool constant = !way.crosses || is_constant_impedance(behaviours[l].law);
    held_ = held_ || (constant && way.crosses && model.loads[l].admittance != Complex{});
    (constant ? others : ports_).push_back(load);
    (constant ? other_ways : port_ways).push_back(std::move(way));
  }
  double share = 1;
  Complex k = share, g{};
  if (place.kind == PlaceKind::Service && model.earth_return_ohms) {
    const Complex all = model.panels.front().run.neutral + *model.earth_return_ohms;
    k = *model.earth_return_ohms / all;
    g = 1.0 / all;
    held_ = true;
  }
  const Index n = row(ports_.size());
  const Index rest = row(others.size());
  const Vector b_port = k * crossing(port_ways);
  const Vector b_other = k * crossing(other_ways);
  const Matrix z_port_other = ohms_between(model, conductors, port_ways, other_ways);
  // The others' volts, by 1, d and the ports' currents.
  Vector y(rest);
  for (std::size_t i = 0; i < others.size(); ++i) y(row(i)) = model.loads[at(others[i])].admittance;
  Matrix by(rest, n + 2);
  by.col(0) = source_volts(model, other_ways);
  by.col(1) = -b_other;
  by.rightCols(n) = -z_port_other.transpose();
  if (rest > 0) by = behind_wiring(model, conductors, other_ways, y, by);
  const Matrix amps_by = y.asDiagonal() * by;
  a_ = source_volts(model, port_ways) - z_port_other * amps_by.col(0);
  c_ = -b_port - z_port_other * amps_by.col(1);
  zp_ = ohms_between(model, conductors, port_ways, port_ways) + z_port_other * amps_by.rightCols(n);
  zp_re_ = zp_.real();
  zp_im_ = zp_.imag();
  j0_ = (b_other.transpose() * amps_by.col(0))(0);
  h_ = (b_other.transpose() * amps_by.col(1))(0) - g;
  m_ = b_port + (b_other.transpose() * amps_by.rightCols(n)).transpose();
  // What every load beyond sees.
  const Index count = row(beyond_.size());
  va_ = Vector(count);
  vc_ = Vector(count);
  vz_ = Matrix(count, n);
  for (Index i = 0; i < count; ++i) {
    const int load = beyond_[static_cast<std::size_t>(i)];
    const auto port = std::find(ports_.begin(), ports_.end(), load);
    if (port != ports_.end()) {
      const Index p = static_cast<Index>(port - ports_.begin());
      va_(i) = a_(p);
      vc_(i) = c_(p);
      vz_.row(i) = -zp_.row(p);
      continue;
    }
    const Index o =
        static_cast<Index>(std::find(others.begin(), others.end(), load) - others.begin());
    va_(i) = by(o, 0);
    vc_(i) = by(o, 1);
    vz_.row(i) = by.row(o).rightCols(n);
  }
}

Complex BehaviourNetwork::drop(Index port, const Eigen::ArrayXd& amps_re,
                               const Eigen::ArrayXd& amps_im) const {
  const auto re = zp_re_.col(port).array();  // symmetric
  const auto im = zp_im_.col(port).array();
  return {(re * amps_re - im * amps_im).sum(), (re * amps_im + im * amps_re).sum()};
}

Vector BehaviourNetwork::drops(const Vector& amps) const {
  const Eigen::VectorXd re = amps.real();
  const Eigen::VectorXd im = amps.imag();
  Vector result(amps.size());
  result.real() = zp_re_ * re - zp_im_ * im;
  result.imag() = zp_re_ * im + zp_im_ * re;
  return result;
}

Complex BehaviourNetwork::break_amps(Complex d, const Vector& amps) const {
  return j0_ + h_ * d + m_.cwiseProduct(amps).sum();
}

Complex BehaviourNetwork::displacement(const Vector& admittances, double conductance,
                                       Vector& volts) const {
  // V = a + c d - Zp y V;  j0 + h d + mᵀ y V = conductance d.
  const Index n = a_.size();
  if (n > kFewPorts) {
    if (const auto d = displacement_by_rounds(admittances, conductance, volts)) return *d;
  }
  Matrix system(n + 1, n + 1);
  Vector rhs(n + 1);
  system.topLeftCorner(n, n) = Matrix::Identity(n, n) + zp_ * admittances.asDiagonal();
  system.topRightCorner(n, 1) = -c_;
  system.bottomLeftCorner(1, n) = m_.cwiseProduct(admittances).transpose();
  system(n, n) = h_ - conductance;
  rhs.head(n) = a_;
  rhs(n) = -j0_;
  const Vector x = system.partialPivLu().solve(rhs);
  volts = x.head(n);
  return x(n);
}

std::optional<Complex> BehaviourNetwork::displacement_by_rounds(const Vector& admittances,
                                                                double conductance,
                                                                Vector& volts) const {
  constexpr int kMostRounds = 20;
  constexpr double kSettled = 1e-9;  // volts
  const Index n = a_.size();
  const Complex slope = h_ - conductance + m_.cwiseProduct(admittances).cwiseProduct(c_).sum();
  if (slope == Complex{}) return {};
  Vector v = volts.size() == n ? volts : a_;
  Complex d{};
  for (int round = 0; round < kMostRounds; ++round) {
    const Vector behind = a_ - drops(admittances.cwiseProduct(v));
    d = -(j0_ + m_.cwiseProduct(admittances).cwiseProduct(behind).sum()) / slope;
    const Vector next = behind + c_ * d;
    const double change = (next - v).cwiseAbs2().maxCoeff();
    v = next;
    if (change < kSettled * kSettled) {
      volts = v;
      return d;
    }
  }
  return {};
}

std::vector<double> BehaviourNetwork::volts_beyond(Complex d, const Vector& amps) const {
  const Vector v = va_ + vc_ * d + vz_ * amps;
  std::vector<double> magnitudes;
  for (Index i = 0; i < v.size(); ++i) magnitudes.push_back(std::abs(v(i)));
  return magnitudes;
}

}  // namespace evenleg
