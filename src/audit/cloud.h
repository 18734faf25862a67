// The states that are still to choose from, as point sets laid out for quick passes, and the best
// choice among them for a separable cost.
//
// Elements are independent but for noncoincident groups, which a small dynamic programme over the
// sets of groups in use joins; the minimum is exact.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "src/audit/problem.h"

namespace evenleg {

struct PointSet {
  std::size_t features = 0;
  std::vector<int> state;
  std::vector<std::uint32_t> groups;
  std::vector<double> re, im;  // [feature * size + point]
  bool grouped = false;        // some point uses a shared group

  [[nodiscard]] std::size_t size() const { return state.size(); }
};

struct Cloud {
  std::vector<PointSet> elements;
  int shared_groups = 0;
};

// Points of `problem.allowed`. `hull_only`: of an element with one feature only the corners of its
// convex hull (for each set of groups), which is enough wherever the cost is concave in the
// feature.
[[nodiscard]] Cloud cloud_of(const Problem& problem, bool hull_only);

// The features of one state of an element: edges, then τ for the own element.
void features_of(const Problem& problem, std::size_t element, int state,
                 std::vector<Complex>& features);

struct Chosen {
  Choice choice;
  std::vector<std::size_t> points;  // of each element's set
  double cost = 0;
};

// Fills in the cost of each point of an element.
using PointCosts = std::function<void(std::size_t element, std::vector<double>& costs)>;

// Nothing when no choice is credible.
[[nodiscard]] std::optional<Chosen> cheapest(const Cloud& cloud, const PointCosts& costs);

// Costs of one element's features.
using Cost = std::vector<Complex>;

// The same where a state costs Re(Σ c_f (f - f0)), f its features, f0 the base's.
[[nodiscard]] std::optional<Chosen> cheapest(const Cloud& cloud, const std::vector<Cost>& costs,
                                             const std::vector<std::vector<Complex>>& base);

// The choice that draws most, by the sum of the cables' own conductances.
[[nodiscard]] std::optional<Choice> heaviest_choice(const Problem& problem);

// Any credible choice.
[[nodiscard]] std::optional<Choice> any_choice(const Problem& problem);

}  // namespace evenleg
