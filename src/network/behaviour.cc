#include "evenleg/network/behaviour.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "src/network/balance_points.h"

namespace evenleg {
namespace {

using Index = Eigen::Index;

constexpr double kLeastOhms = 1e-9;  // added: below it the neutral is sound

// As std::abs, whose care for the ends of the range of numbers no volts need.
double size_of(Complex z) { return std::sqrt(std::norm(z)); }

// a / b without the care of operator/ for the ends of the range of numbers.
Complex ratio(Complex a, Complex b) { return a * std::conj(b) / std::norm(b); }

// |V| of a varistor that has `open` volts behind `z`: |V| |1 + z y(|V|)| = |open|. The left side
// rises with |V|, and on logarithmic scales so evenly that Newton's method there needs few steps.
// Where the volts would fall below the threshold by conducting, they stay on it.
double varistor_volts(const LoadBehaviour& load, double open, Complex z, double last,
                      double within) {
  constexpr double kFiner = 0.1;  // than the volts are asked for
  constexpr double kUpwards = 1 + 4 * std::numeric_limits<double>::epsilon();
  constexpr int kMostSteps = 100;
  const double threshold = *load.law.conducts_above * load.nameplate_volts * kUpwards;
  if (open < threshold) return open;
  double volts = std::clamp(last, threshold, open);
  for (int step = 0; step < kMostSteps; ++step) {
    const Complex zy = z * secant_admittance(load, volts, LoadStatus::Running);
    const double over = std::log(volts * size_of(1.0 + zy) / open);
    const double slope = 1 + (load.law.conducts_exponent - 1) * ratio(zy, 1.0 + zy).real();
    const double next = std::clamp(volts * std::exp(-over / slope), threshold, open);
    const double change = std::abs(next - volts);
    volts = next;
    if (change <= kFiner * within * open) break;
  }
  return volts;
}

// Where the course first rests is a balance point too, should the search have taken loads together
// that part there.
void add_rest(BehaviourResult& result) {
  constexpr double kSamePoint = 1e-4;  // volts
  const CascadeStep& first = result.cascade.front();
  if (first.end != CascadeEnd::Rests || !first.stable) return;
  for (const BalancePoint& point : result.points) {
    if (std::abs(point.displacement.si() - first.displacement.si()) < kSamePoint) return;
  }
  result.points.insert(result.points.begin(), {first.displacement, true, first.loads});
}

}  // namespace

// By a varistor's law at once; other laws move little, and one step of the fixed point does.
double Balance::port_volts(std::size_t p, LoadStatus status, Complex behind, double last,
                           double within) const {
  const LoadBehaviour& load = port(p);
  if (!load.law.conducts_above || status != LoadStatus::Running) return last;
  const Index i = static_cast<Index>(p);
  return varistor_volts(load, size_of(behind), network_.port_ohms(i), last, within);
}

// Ports one after another until none moves; each sees the others' last currents.
Balance::At Balance::at(Complex d, const Statuses& statuses, const Vector& from,
                        double within) const {
  constexpr int kMostRounds = 100;
  const Vector open = network_.open_volts(d);
  const Index n = open.size();
  At here{{}, from.size() == n ? from : open, Vector(n), n == 0};
  for (Index i = 0; i < n; ++i) {
    const std::size_t p = static_cast<std::size_t>(i);
    here.amps(i) = secant_admittance(port(p), size_of(here.volts(i)), statuses[p]) * here.volts(i);
  }
  Eigen::ArrayXd re = here.amps.real();
  Eigen::ArrayXd im = here.amps.imag();
  for (int round = 0; round < kMostRounds && !here.settled; ++round) {
    double change = 0;  // squares of volts
    double most = 1;
    for (Index i = 0; i < n; ++i) {
      const std::size_t p = static_cast<std::size_t>(i);
      const Complex z = network_.port_ohms(i);
      const Complex behind = open(i) - (network_.drop(i, re, im) - z * here.amps(i));
      const double size = port_volts(p, statuses[p], behind, size_of(here.volts(i)), within);
      const Complex y = secant_admittance(port(p), size, statuses[p]);
      const Complex volts = ratio(behind, 1.0 + z * y);
      change = std::max(change, std::norm(volts - here.volts(i)));
      most = std::max(most, std::norm(volts));
      here.volts(i) = volts;
      here.amps(i) = y * volts;
      re(i) = here.amps(i).real();
      im(i) = here.amps(i).imag();
    }
    here.settled = change <= within * within * most;
  }
  here.left_over = network_.break_amps(d, here.amps) - conductance_ * d;
  return here;
}

// With the steps in use, truncation and rounding are both below 1e-3 of the slope in a search and
// far below 1e-6 of it where a point is judged. The volts on the far side are nearly the mirror
// image of those on the near side, so that their search has little left to do.
Balance::Slope Balance::slope(Complex d, const Statuses& statuses, const At& here, double step,
                              double within) const {
  const auto by = [&](Complex way) {
    const At near = at(d - way, statuses, network_.moved(here.volts, -way), within);
    const At far = at(d + way, statuses, 2.0 * here.volts - near.volts, within);
    return (near.left_over - far.left_over) / (2 * step);
  };
  const Complex x = by(step);
  const Complex y = by({0, step});
  return {x.real(), y.real(), x.imag(), y.imag()};
}

std::optional<Complex> Balance::root(Complex start, const Statuses& statuses,
                                     const std::vector<Complex>& found, bool confined) const {
  constexpr int kMostSteps = 40;
  constexpr int kFreeSteps = 3;       // it may swing out at first
  constexpr double kRoaming = 0.15;   // per unit
  constexpr double kStep = 1e-2;      // volts, of the slope
  constexpr double kWithin = 1e-9;    // of the volts, for the slope
  constexpr int kPatience = 12;       // confined: by then a step is small, or it finds nothing
  constexpr double kSmall = 1;        // volts
  constexpr double kMostVolts = 40;   // of a step
  constexpr double kSettled = 1e-10;  // volts
  constexpr double kAway = 1000;      // volts: it has left the house
  Complex d = start;
  Vector volts;
  for (int step = 0; step < kMostSteps; ++step) {
    const At here = at(d, statuses, volts);
    if (confined && step >= kFreeSteps && !consistent(here.volts, statuses, kRoaming)) return {};
    Slope s = slope(d, statuses, here, kStep, kWithin);
    // F / prod |d - r|: its slope gains F times the gradient of the logarithm of the product.
    for (Complex r : found) {
      const Complex away = d - r;
      const double square = std::max(std::norm(away), kSettled * kSettled);
      s.xx += here.left_over.real() * away.real() / square;
      s.xy += here.left_over.real() * away.imag() / square;
      s.yx += here.left_over.imag() * away.real() / square;
      s.yy += here.left_over.imag() * away.imag() / square;
    }
    const double determinant = s.determinant();
    if (determinant == 0 || !std::isfinite(determinant)) return {};
    const Complex f = here.left_over;
    Complex move{(s.yy * f.real() - s.xy * f.imag()) / determinant,
                 (s.xx * f.imag() - s.yx * f.real()) / determinant};
    if (std::abs(move) > kMostVolts) move *= kMostVolts / std::abs(move);
    d += move;
    volts = network_.moved(here.volts, move);
    if (!(std::abs(d) < kAway)) return {};
    if (std::abs(move) < kSettled) return d;
    if (confined && step >= kPatience && std::abs(move) > kSmall) return {};
  }
  return {};
}

// The slack, per unit, is for rounding: a load exactly at a threshold is consistent.
bool Balance::consistent(const Vector& volts, const Statuses& statuses, double slack) const {
  for (std::size_t p = 0; p < statuses.size(); ++p) {
    const double size = size_of(volts(static_cast<Index>(p)));
    if (!is_consistent(port(p), size, statuses[p], slack)) return false;
  }
  return true;
}

std::vector<BehavingLoad> Balance::loads(const At& here, Complex d,
                                         const Statuses& statuses) const {
  const std::vector<double> seen = network_.volts_beyond(d, here.amps);
  std::vector<BehavingLoad> loads;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    const int load = network_.beyond()[i];
    const auto port = std::find(network_.ports().begin(), network_.ports().end(), load);
    LoadStatus status = LoadStatus::Running;
    if (port != network_.ports().end()) {
      status = statuses[static_cast<std::size_t>(port - network_.ports().begin())];
    }
    const LoadBehaviour& law = behaviours_[static_cast<std::size_t>(load)];
    loads.push_back({load, volts(seen[i]), status, is_conducting(law, seen[i], status),
                     share_of_failing(law, seen[i], status) >= 1});
  }
  return loads;
}

bool any_stable(const BehaviourResult& result) {
  return std::any_of(result.points.begin(), result.points.end(),
                     [](const BalancePoint& point) { return point.stable; });
}

std::string_view sentence(CascadeEnd end) {
  switch (end) {
    case CascadeEnd::Rests:
      return "It comes to rest.";
    case CascadeEnd::Floats:
      return "No load that draws holds the neutral any more: it floats, and no volts can be "
             "stated.";
    case CascadeEnd::Cycles:
      return "It does not come to rest: loads drop out and return by turns.";
    case CascadeEnd::NotSettled:
      return "No rest was found within the steps that were followed.";
  }
  return "";
}

BehaviourResult behaviour(const Model& model, const std::vector<LoadBehaviour>& behaviours,
                          const NeutralFault& fault, const std::vector<bool>& on) {
  const BehaviourNetwork network(model, behaviours, fault.place, on);
  const double conductance =
      fault.added_ohms == kOpen ? 0 : 1 / std::max(kLeastOhms, fault.added_ohms);
  const Balance balance(network, behaviours, conductance);
  BehaviourResult result;
  result.any_law = !network.ports().empty();
  result.connected = !network.beyond().empty();
  if (!result.connected) return result;
  result.points = balance_points(balance, model, result.all_statuses);
  result.cascade = cascade(balance);
  add_rest(result);
  return result;
}

}  // namespace evenleg
