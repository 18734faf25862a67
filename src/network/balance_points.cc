#include "src/network/balance_points.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

using Index = Eigen::Index;

constexpr int kAlong = 24;             // cells along the first two sources
constexpr int kAcross = 13;            // odd: in phase, no node lies on the line that d keeps to
constexpr double kRoom = 1.05;         // drops of the wiring let d leave the disc a little
constexpr double kSlack = 0.1;         // per unit: a node's volts without the ports' own drop
constexpr std::size_t kMostAlone = 6;  // loads that can change status, each for itself
constexpr std::size_t kMostOpen = 3;   // units free to be either at one node, all combinations
constexpr std::size_t kMostStatuses = 24;  // combinations searched
constexpr std::size_t kManyPorts = 24;     // from here on fewer, for the cost of each
constexpr std::size_t kMostOfMany = 8;
constexpr double kScanned = 2e-3;  // of the volts, at the nodes
constexpr double kSame = 1e-5;     // volts: one point found twice
constexpr std::size_t kNodes = (kAlong + 1) * (kAcross + 1);

bool can_change(const LoadBehaviour& load) { return load.law.off_below || load.law.stalls_below; }

LoadStatus other_status(const LoadBehaviour& load) {
  return load.law.off_below ? LoadStatus::LockedOut : LoadStatus::Stalled;
}

// Ports that change status together.
using Unit = std::vector<std::size_t>;

std::vector<Unit> units_of(const Balance& balance, const Model& model, bool& all_statuses) {
  std::vector<std::size_t> changing;
  for (std::size_t p = 0; p < balance.ports(); ++p) {
    if (can_change(balance.port(p))) changing.push_back(p);
  }
  std::vector<Unit> units;
  if (changing.size() <= kMostAlone) {
    for (std::size_t p : changing) units.push_back({p});
    return units;
  }
  std::map<std::tuple<int, bool, double, double>, Unit> together;
  for (std::size_t p : changing) {
    const LoadModel& load = model.loads[at(balance.network().ports()[p])];
    const int leg = model.cables[at(load.cable)].hots[at(load.from)].leg;
    const LoadBehaviour& behaviour = balance.port(p);
    const LoadLaw& law = behaviour.law;
    const bool locks = law.off_below.has_value();
    together[{leg, locks, (locks ? *law.off_below : *law.stalls_below) * behaviour.nameplate_volts,
              (locks ? *law.on_above : *law.restarts_above) * behaviour.nameplate_volts}]
        .push_back(p);
  }
  all_statuses = together.size() == changing.size();
  for (auto& [key, unit] : together) units.push_back(std::move(unit));
  return units;
}

struct Grid {
  Complex first;  // node 0, 0
  Complex along;
  Complex across;

  [[nodiscard]] Complex node(int i, int j) const {
    return first + static_cast<double>(i) * along + static_cast<double>(j) * across;
  }
  [[nodiscard]] Complex middle(int i, int j) const { return node(i, j) + (along + across) / 2.0; }
};

// Over the disc that holds every disc with two sources as diameter.
Grid grid_over(std::vector<Complex> poles, bool returns) {
  if (returns) poles.push_back({});
  Complex middle{};
  for (Complex pole : poles) middle += pole / static_cast<double>(poles.size());
  double radius = 1;
  Complex direction = 1;
  for (std::size_t a = 0; a < poles.size(); ++a) {
    for (std::size_t b = a + 1; b < poles.size(); ++b) {
      const Complex span = poles[b] - poles[a];
      if (a == 0 && b == 1 && std::abs(span) > 0) direction = span / std::abs(span);
      radius =
          std::max(radius, std::abs((poles[a] + poles[b]) / 2.0 - middle) + std::abs(span) / 2);
    }
  }
  radius *= kRoom;
  const Complex along = direction * (2 * radius / kAlong);
  const Complex across = direction * Complex(0, 2 * radius / kAcross);
  return {middle - along * (kAlong / 2.0) - across * (kAcross / 2.0), along, across};
}

class Search {
 public:
  Search(const Balance& balance, const Model& model, bool& all_statuses)
      : balance_(balance),
        all_statuses_(all_statuses),
        units_(units_of(balance, model, all_statuses)),
        returns_(balance.conductance() > 0 || balance.network().held()),
        grid_(grid_over(balance.network().poles(), returns_)) {}

  std::vector<BalancePoint> run() {
    for (const auto& [choice, nodes] : choices()) search(statuses_of(choice), nodes);
    std::stable_sort(points_.begin(), points_.end(),
                     [](const BalancePoint& a, const BalancePoint& b) {
                       if (a.stable != b.stable) return a.stable;
                       return a.displacement.si().real() < b.displacement.si().real();
                     });
    return std::move(points_);
  }

 private:
  using Chosen = std::vector<bool>;  // by unit: not running
  using Left = std::vector<std::optional<Complex>>;  // F by node, where it was worked out

  [[nodiscard]] static int index(int i, int j) { return i * (kAcross + 1) + j; }

  [[nodiscard]] Statuses statuses_of(const Chosen& choice) const {
    Statuses statuses(balance_.ports(), LoadStatus::Running);
    for (std::size_t u = 0; u < units_.size(); ++u) {
      if (!choice[u]) continue;
      for (std::size_t p : units_[u]) statuses[p] = other_status(balance_.port(p));
    }
    return statuses;
  }

  // The choices that the volts of some node allow, and for each the nodes, ascending.
  [[nodiscard]] std::map<Chosen, std::vector<int>> choices() const {
    std::map<Chosen, std::vector<int>> found;
    const std::size_t most = balance_.ports() < kManyPorts ? kMostStatuses : kMostOfMany;
    for (int i = 0; i <= kAlong; ++i) {
      for (int j = 0; j <= kAcross; ++j) {
        for (Chosen& choice : choices_at(grid_.node(i, j))) {
          if (found.size() < most || found.count(choice) > 0) {
            found[std::move(choice)].push_back(index(i, j));
          } else {
            all_statuses_ = false;
          }
        }
      }
    }
    return found;
  }

  [[nodiscard]] std::vector<Chosen> choices_at(Complex d) const {
    const Vector open = balance_.network().open_volts(d);
    Chosen base(units_.size(), false);
    std::vector<std::size_t> either;
    for (std::size_t u = 0; u < units_.size(); ++u) {
      bool running = true, changed = true;
      for (std::size_t p : units_[u]) {
        const LoadBehaviour& load = balance_.port(p);
        const double volts = std::sqrt(std::norm(open(static_cast<Index>(p))));
        running = running && is_consistent(load, volts, LoadStatus::Running, kSlack);
        changed = changed && is_consistent(load, volts, other_status(load), kSlack);
      }
      base[u] = !running;
      if (running && changed) either.push_back(u);
    }
    std::vector<Chosen> all;
    if (either.size() > kMostOpen) {
      all_statuses_ = false;
      all.push_back(base);
      for (std::size_t u : either) base[u] = true;
      all.push_back(base);
      return all;
    }
    for (std::size_t bits = 0; bits < (std::size_t{1} << either.size()); ++bits) {
      Chosen choice = base;
      for (std::size_t e = 0; e < either.size(); ++e) choice[either[e]] = ((bits >> e) & 1U) != 0;
      all.push_back(std::move(choice));
    }
    return all;
  }

  void search(const Statuses& statuses, const std::vector<int>& nodes) {
    if (!joined(statuses)) return;
    if (balance_.ports() == 0) {  // constant impedances: one point, exactly
      keep(straight(), statuses);
      return;
    }
    Left left(kNodes);  // at every corner of a cell that has an admissible one
    Vector volts;
    Complex last;
    const auto left_at = [&](int i, int j) {
      std::optional<Complex>& entry = left[at(index(i, j))];
      if (!entry) {
        const Complex d = grid_.node(i, j);
        if (volts.size() > 0) volts = balance_.network().moved(volts, d - last);
        const Balance::At here = balance_.at(d, statuses, volts, kScanned);
        entry = here.left_over;
        volts = here.volts;
        last = d;
      }
      return *entry;
    };
    for (int cell : cells_at(nodes)) {
      const int i = cell / (kAcross + 1);
      const int j = cell % (kAcross + 1);
      const Complex corners[] = {left_at(i, j), left_at(i + 1, j), left_at(i + 1, j + 1),
                                 left_at(i, j + 1)};
      if (turns(corners)) start(grid_.middle(i, j), statuses);
    }
    for (int node = 0; node < static_cast<int>(kNodes); ++node) {
      if (left[at(node)] && least_around(left, node)) {
        start(grid_.node(node / (kAcross + 1), node % (kAcross + 1)), statuses);
      }
    }
  }

  // The cells that have one of the nodes as a corner, ascending; a cell goes by its first corner.
  static std::vector<int> cells_at(const std::vector<int>& nodes) {
    std::vector<bool> is_one(kNodes, false);
    for (int node : nodes) {
      const int i = node / (kAcross + 1);
      const int j = node % (kAcross + 1);
      for (int a = std::max(0, i - 1); a <= std::min(i, kAlong - 1); ++a) {
        for (int b = std::max(0, j - 1); b <= std::min(j, kAcross - 1); ++b) {
          is_one[at(index(a, b))] = true;
        }
      }
    }
    std::vector<int> cells;
    for (std::size_t cell = 0; cell < kNodes; ++cell) {
      if (is_one[cell]) cells.push_back(static_cast<int>(cell));
    }
    return cells;
  }

  // Something that draws joins the broken neutral.
  [[nodiscard]] bool joined(const Statuses& statuses) const {
    if (returns_ || balance_.network().held()) return true;
    return std::any_of(statuses.begin(), statuses.end(), [](LoadStatus status) {
      return status == LoadStatus::Running || status == LoadStatus::Stalled;
    });
  }

  [[nodiscard]] Complex straight() const {
    Vector none;
    return balance_.network().displacement(Vector(0), balance_.conductance(), none);
  }

  // Turns that F makes along the cell's edge: its zeros inside, counted by their index.
  static bool turns(const Complex (&corners)[4]) {
    double angle = 0;
    for (int k = 0; k < 4; ++k) {
      if (corners[k] == Complex{}) return true;
      angle += std::arg(corners[(k + 1) % 4] / corners[k]);
    }
    return std::abs(angle) > 1;  // whole turns, of 6.28
  }

  static bool least_around(const Left& left, int node) {
    const double least = std::norm(*left[at(node)]);
    for (int step : {-1, 1, -(kAcross + 1), kAcross + 1}) {
      const int other = node + step;
      if (other < 0 || other >= static_cast<int>(kNodes) || !left[at(other)]) return false;
      if (std::norm(*left[at(other)]) < least) return false;
    }
    return true;
  }

  void start(Complex from, const Statuses& statuses) {
    const std::optional<Complex> root = balance_.root(from, statuses, {}, true);
    if (!root || !keep(*root, statuses)) return;
    if (const auto second = balance_.root(from, statuses, {*root}, true)) keep(*second, statuses);
  }

  // False: known already, or the statuses do not agree with it.
  bool keep(Complex d, const Statuses& statuses) {
    const Balance::At here = balance_.at(d, statuses);
    if (!here.settled || !balance_.consistent(here.volts, statuses)) return false;
    std::vector<BehavingLoad> loads = balance_.loads(here, d, statuses);
    for (const BalancePoint& point : points_) {
      if (std::abs(point.displacement.si() - d) < kSame && same_statuses(point.loads, loads)) {
        return false;
      }
    }
    const bool stable = balance_.slope(d, statuses, here).stable();
    points_.push_back({VoltagePhasor(d), stable, std::move(loads)});
    return true;
  }

  static bool same_statuses(const std::vector<BehavingLoad>& a,
                            const std::vector<BehavingLoad>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
      if (a[i].status != b[i].status) return false;
    }
    return true;
  }

  const Balance& balance_;
  bool& all_statuses_;
  std::vector<Unit> units_;
  bool returns_;
  Grid grid_;
  std::vector<BalancePoint> points_;
};

}  // namespace

std::vector<BalancePoint> balance_points(const Balance& balance, const Model& model,
                                         bool& all_statuses) {
  return Search(balance, model, all_statuses).run();
}

}  // namespace evenleg
