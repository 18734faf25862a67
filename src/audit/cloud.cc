#include "src/audit/cloud.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/index.h"
#include "src/audit/corners.h"

namespace evenleg {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

std::vector<int> kept_states(const Problem& problem, std::size_t n, bool hull_only) {
  const Element& element = (*problem.elements)[n];
  const std::vector<int>& allowed = problem.allowed[n];
  const bool own = static_cast<int>(n) == problem.own;
  if (!hull_only || own || element.edge_count() != 1) return allowed;
  return allowed.size() == element.states.size() ? element.corners
                                                 : corner_states(element, allowed);
}

void take_groups(const Element& element, PointSet& set) {
  set.groups.reserve(set.size());
  for (int state : set.state) {
    set.groups.push_back(element.states[at(state)].groups);
    set.grouped = set.grouped || set.groups.back() != 0;
  }
}

// Joins the elements that use shared groups: table[used] is the cheapest way to have used them.
class GroupJoin {
 public:
  explicit GroupJoin(int groups)
      : table_(std::size_t{1} << static_cast<unsigned>(groups), kNever) {
    table_.front() = 0;
  }

  void add(const PointSet& set, const std::vector<double>& costs) {
    std::vector<std::pair<std::uint32_t, std::size_t>> best;  // cheapest point by set of groups
    for (std::size_t i = 0; i < set.size(); ++i) {
      const auto same = std::find_if(best.begin(), best.end(), [&](const auto& b) {
        return b.first == set.groups[i];
      });
      if (same == best.end()) {
        best.emplace_back(set.groups[i], i);
      } else if (costs[i] < costs[same->second]) {
        same->second = i;
      }
    }
    std::vector<double> next(table_.size(), kNever);
    std::vector<std::pair<std::uint32_t, std::size_t>> from(table_.size());
    for (std::uint32_t used = 0; used < table_.size(); ++used) {
      if (table_[used] == kNever) continue;
      for (const auto& [groups, point] : best) {
        if ((groups & used) != 0 || (groups | used) >= table_.size()) continue;
        const double cost = table_[used] + costs[point];
        if (cost >= next[groups | used]) continue;
        next[groups | used] = cost;
        from[groups | used] = {used, point};
      }
    }
    table_ = std::move(next);
    from_.push_back(std::move(from));
  }

  // The points chosen, in the order of add(); nothing when there is no way. Adds to `cost`.
  [[nodiscard]] std::optional<std::vector<std::size_t>> best(double& cost) const {
    const auto least = std::min_element(table_.begin(), table_.end());
    if (*least == kNever) return std::nullopt;
    cost += *least;
    auto used = static_cast<std::size_t>(least - table_.begin());
    std::vector<std::size_t> points(from_.size());
    for (std::size_t n = from_.size(); n-- > 0;) {
      points[n] = from_[n][used].second;
      used = from_[n][used].first;
    }
    return points;
  }

 private:
  std::vector<double> table_;
  std::vector<std::vector<std::pair<std::uint32_t, std::size_t>>> from_;
};

}  // namespace

void features_of(const Problem& problem, std::size_t n, int state,
                 std::vector<Complex>& features) {
  const Element& element = (*problem.elements)[n];
  features.clear();
  for (std::size_t e = 0; e < element.edge_count(); ++e) {
    features.push_back(element.y[at(state) * element.edge_count() + e]);
  }
  if (static_cast<int>(n) != problem.own) return;
  for (std::size_t i = 0; i < element.ports.size(); ++i) {
    features.push_back(problem.tau[at(state) * element.ports.size() + i]);
  }
}

Cloud cloud_of(const Problem& problem, bool hull_only) {
  Cloud cloud;
  cloud.shared_groups = problem.shared_groups;
  std::vector<Complex> features;
  for (std::size_t n = 0; n < problem.elements->size(); ++n) {
    const Element& element = (*problem.elements)[n];
    PointSet set;
    set.state = kept_states(problem, n, hull_only);
    set.features = element.edge_count();
    if (static_cast<int>(n) == problem.own) set.features += element.ports.size();
    set.re.resize(set.features * set.size());
    set.im.resize(set.features * set.size());
    take_groups(element, set);
    for (std::size_t i = 0; i < set.size(); ++i) {
      features_of(problem, n, set.state[i], features);
      for (std::size_t f = 0; f < features.size(); ++f) {
        set.re[f * set.size() + i] = features[f].real();
        set.im[f * set.size() + i] = features[f].imag();
      }
    }
    cloud.elements.push_back(std::move(set));
  }
  return cloud;
}

std::optional<Chosen> cheapest(const Cloud& cloud, const PointCosts& costs) {
  Chosen chosen;
  chosen.choice.resize(cloud.elements.size());
  chosen.points.resize(cloud.elements.size());
  std::vector<double> point_costs;
  std::vector<std::size_t> grouped;
  std::optional<GroupJoin> join;
  const auto take = [&](std::size_t n, std::size_t point) {
    chosen.points[n] = point;
    chosen.choice[n] = cloud.elements[n].state[point];
  };
  for (std::size_t n = 0; n < cloud.elements.size(); ++n) {
    const PointSet& set = cloud.elements[n];
    if (set.size() == 0) return std::nullopt;
    costs(n, point_costs);
    if (set.grouped) {
      if (!join) join.emplace(cloud.shared_groups);
      join->add(set, point_costs);
      grouped.push_back(n);
      continue;
    }
    const auto least = std::min_element(point_costs.begin(), point_costs.end());
    chosen.cost += *least;
    take(n, static_cast<std::size_t>(least - point_costs.begin()));
  }
  if (join) {
    const auto points = join->best(chosen.cost);
    if (!points) return std::nullopt;
    for (std::size_t g = 0; g < grouped.size(); ++g) take(grouped[g], (*points)[g]);
  }
  return chosen;
}

std::optional<Chosen> cheapest(const Cloud& cloud, const std::vector<Cost>& costs,
                               const std::vector<std::vector<Complex>>& base) {
  return cheapest(cloud, [&](std::size_t n, std::vector<double>& result) {
    const PointSet& set = cloud.elements[n];
    result.assign(set.size(), 0.0);
    for (std::size_t f = 0; f < set.features; ++f) {
      const Complex c = costs[n][f];
      const double* re = set.re.data() + f * set.size();
      const double* im = set.im.data() + f * set.size();
      for (std::size_t i = 0; i < set.size(); ++i) {
        result[i] += c.real() * (re[i] - base[n][f].real()) - c.imag() * (im[i] - base[n][f].imag());
      }
    }
  });
}

namespace {

// The cheapest choice when a siemens of a cable's own conductance costs `cost`.
std::optional<Choice> choice_by_conductance(const Problem& problem, double cost) {
  Cloud cloud;
  cloud.shared_groups = problem.shared_groups;
  for (std::size_t n = 0; n < problem.elements->size(); ++n) {
    PointSet set;
    set.state = problem.allowed[n];
    take_groups((*problem.elements)[n], set);
    cloud.elements.push_back(std::move(set));
  }
  const auto costs = [&](std::size_t n, std::vector<double>& result) {
    const Element& element = (*problem.elements)[n];
    result.assign(cloud.elements[n].size(), 0.0);
    if (cost == 0) return;
    for (std::size_t e = 0; e < element.edge_count(); ++e) {
      if (element.edges[e].first != element.edges[e].second) continue;
      for (std::size_t i = 0; i < result.size(); ++i) {
        const std::size_t state = at(cloud.elements[n].state[i]);
        result[i] += cost * element.y[state * element.edge_count() + e].real();
      }
    }
  };
  const std::optional<Chosen> chosen = cheapest(cloud, costs);
  if (!chosen) return std::nullopt;
  return chosen->choice;
}

}  // namespace

std::optional<Choice> heaviest_choice(const Problem& problem) {
  return choice_by_conductance(problem, -1);
}

std::optional<Choice> any_choice(const Problem& problem) {
  return choice_by_conductance(problem, 0);
}

}  // namespace evenleg
