#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "src/network/balance_points.h"

namespace evenleg {
namespace {

using Index = Eigen::Index;

constexpr double kShare = 0.3;  // of the way to its law that a load goes at each step
constexpr int kMostSteps = 3000;
constexpr double kSettled = 1e-6;  // volts by which d moves in a step
constexpr double kPolished = 1;    // volts: Newton's point is the one that was neared

class Cascade {
 public:
  explicit Cascade(const Balance& balance)
      : balance_(balance),
        statuses_(balance.ports(), LoadStatus::Running),
        admittances_(static_cast<Index>(balance.ports())) {
    for (std::size_t p = 0; p < balance.ports(); ++p) restart(p);
  }

  std::vector<CascadeStep> run() {
    std::vector<CascadeStep> steps{settle(CascadeCause::Opened, -1)};
    // Each further step takes a load out, so there are no more than there are ports.
    while (true) {
      const auto [cause, port] = next_out(steps.back());
      if (port < 0) return steps;
      statuses_[static_cast<std::size_t>(port)] = LoadStatus::FailedOpen;
      admittances_(port) = 0;
      steps.push_back(settle(cause, balance_.network().ports()[static_cast<std::size_t>(port)]));
    }
  }

 private:
  // As it was before: its reference impedance; a varistor does not conduct then.
  void restart(std::size_t p) {
    const LoadBehaviour& load = balance_.port(p);
    admittances_(static_cast<Index>(p)) = load.law.conducts_above ? Complex{} : load.nominal;
  }

  [[nodiscard]] bool held() const {
    return balance_.network().held() || balance_.conductance() > 0 || !admittances_.isZero(0) ||
           std::any_of(statuses_.begin(), statuses_.end(),
                       [](LoadStatus s) { return s == LoadStatus::Stalled; });
  }

  CascadeStep settle(CascadeCause cause, int load) {
    CascadeStep step;
    step.cause = cause;
    step.load = load;
    std::map<Statuses, int> seen{{statuses_, 0}};
    std::vector<double> highest;  // of a cycle
    bool repeating = false;
    Vector volts;
    Complex d{};
    for (int i = 0; i < kMostSteps; ++i) {
      if (!held()) return floats(std::move(step));
      const Complex next =
          balance_.network().displacement(admittances_, balance_.conductance(), volts);
      if (repeating) take_highest(next, volts, highest);
      if (change_statuses(volts, step)) {
        const int times = ++seen[statuses_];
        if (repeating && times > kTimesRound) return cycles(std::move(step), highest, next);
        repeating = repeating || times > 1;
      } else if (i > 0 && std::abs(next - d) < kSettled && nears_law(volts)) {
        return rests(std::move(step), next, volts);
      }
      d = next;
      follow_laws(volts);
    }
    step.end = CascadeEnd::NotSettled;
    return with_loads(std::move(step), d);
  }

  bool change_statuses(const Vector& volts, CascadeStep& step) {
    constexpr std::size_t kMostTold = 200;
    bool any = false;
    for (std::size_t p = 0; p < statuses_.size(); ++p) {
      const double size = std::abs(volts(static_cast<Index>(p)));
      const LoadStatus next = next_status(balance_.port(p), size, statuses_[p]);
      if (next == statuses_[p]) continue;
      any = true;
      statuses_[p] = next;
      if (next == LoadStatus::Running) {
        restart(p);
      } else {
        step.ran_away = true;
        admittances_(static_cast<Index>(p)) = secant_admittance(balance_.port(p), size, next);
      }
      if (step.changes.size() < kMostTold) {
        step.changes.push_back({balance_.network().ports()[p], next});
      }
    }
    return any;
  }

  // A varistor follows at once, by volts that its own current has lowered; it goes by shares in the
  // logarithm, since its admittance spans many powers of ten.
  void follow_laws(const Vector& volts) {
    for (std::size_t p = 0; p < statuses_.size(); ++p) {
      const Index i = static_cast<Index>(p);
      const Complex law = secant_admittance(balance_.port(p), std::abs(volts(i)), statuses_[p]);
      if (balance_.port(p).law.conducts_above && law != Complex{} && admittances_(i) != Complex{}) {
        constexpr double kGentle = 0.05;  // the 30th power answers a step thirty times over
        admittances_(i) *= std::pow(std::abs(law) / std::abs(admittances_(i)), kGentle);
      } else if (balance_.port(p).law.conducts_above && law != Complex{}) {
        constexpr double kOnset = 1.0001;  // of the threshold: where its current begins
        const LoadBehaviour& load = balance_.port(p);
        admittances_(i) = secant_admittance(
            load, kOnset * *load.law.conducts_above * load.nameplate_volts, statuses_[p]);
      } else {
        admittances_(i) += kShare * (law - admittances_(i));
      }
    }
  }

  [[nodiscard]] bool nears_law(const Vector& volts) const {
    constexpr double kNear = 1e-3;
    for (std::size_t p = 0; p < statuses_.size(); ++p) {
      const Index i = static_cast<Index>(p);
      const Complex law = secant_admittance(balance_.port(p), std::abs(volts(i)), statuses_[p]);
      if (std::abs(law - admittances_(i)) > kNear * std::abs(law) + 1e-12) return false;
    }
    return true;
  }

  CascadeStep rests(CascadeStep step, Complex d, const Vector& volts) const {
    const std::optional<Complex> exact =
        balance_.ports() > 0 ? balance_.root(d, statuses_) : std::optional<Complex>(d);
    if (exact && std::abs(*exact - d) < kPolished) d = *exact;
    const Balance::At here = balance_.at(d, statuses_, volts);
    step.displacement = VoltagePhasor(d);
    step.stable = here.settled && balance_.slope(d, statuses_, here).stable();
    step.loads = balance_.loads(here, d, statuses_);
    return step;
  }

  CascadeStep floats(CascadeStep step) const {
    step.end = CascadeEnd::Floats;
    step = with_loads(std::move(step), {});
    for (BehavingLoad& load : step.loads) {
      load.volts = volts(std::numeric_limits<double>::quiet_NaN());
      load.conducting = load.past_failing = false;
    }
    return step;
  }

  CascadeStep cycles(CascadeStep step, const std::vector<double>& highest, Complex d) const {
    step.end = CascadeEnd::Cycles;
    step = with_loads(std::move(step), d);
    for (std::size_t i = 0; i < step.loads.size(); ++i) {
      BehavingLoad& load = step.loads[i];
      load.volts = volts(highest[i]);
      load.past_failing = share(load) >= 1;
    }
    return step;
  }

  CascadeStep with_loads(CascadeStep step, Complex d) const {
    step.loads = balance_.loads(balance_.at(d, statuses_), d, statuses_);
    return step;
  }

  void take_highest(Complex d, const Vector& volts, std::vector<double>& highest) const {
    const Vector amps = admittances_.cwiseProduct(volts);
    const std::vector<double> now = balance_.network().volts_beyond(d, amps);
    if (highest.empty()) highest = now;
    for (std::size_t i = 0; i < now.size(); ++i) highest[i] = std::max(highest[i], now[i]);
  }

  [[nodiscard]] std::size_t port_of(int load) const {
    const std::vector<int>& ports = balance_.network().ports();
    return static_cast<std::size_t>(std::find(ports.begin(), ports.end(), load) - ports.begin());
  }

  [[nodiscard]] double share(const BehavingLoad& seen) const {
    const std::size_t p = port_of(seen.load);
    return p == balance_.ports() ? 0
                                 : share_of_failing(balance_.port(p), seen.volts.si(), seen.status);
  }

  // The port that goes next, -1 for none: furthest past its limit, else the first stalled one.
  [[nodiscard]] std::pair<CascadeCause, int> next_out(const CascadeStep& step) const {
    if (step.end == CascadeEnd::Floats || step.end == CascadeEnd::NotSettled) {
      return {CascadeCause::Failed, -1};
    }
    constexpr double kTie = 1e-9;  // shares this near are one: the house's order decides
    double most = 1 - kTie;
    int port = -1;
    for (const BehavingLoad& seen : step.loads) {
      const double past = share(seen);
      if (past < most + (port < 0 ? 0 : kTie)) continue;
      most = past;
      port = static_cast<int>(port_of(seen.load));
    }
    if (port >= 0) return {CascadeCause::Failed, port};
    for (const BehavingLoad& seen : step.loads) {
      if (seen.status == LoadStatus::Stalled) {
        return {CascadeCause::Tripped, static_cast<int>(port_of(seen.load))};
      }
    }
    return {CascadeCause::Tripped, -1};
  }

  static constexpr int kTimesRound = 2;  // a status seen more often: the round has been run again

  const Balance& balance_;
  Statuses statuses_;
  Vector admittances_;
};

}  // namespace

std::vector<CascadeStep> cascade(const Balance& balance) { return Cascade(balance).run(); }

}  // namespace evenleg
