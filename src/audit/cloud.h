// The states that are still to choose from, as point sets laid out for quick passes, and the best
// choice among them for a separable cost.
//
// The cost of a state of one element is  Re(Σ c_f (f - f0)) - Σ w_f |f - f0|,  f its features, f0 the
// base's. Elements are independent but for noncoincident groups, which a small dynamic programme over
// the sets of groups in use joins; the minimum is exact.
#pragma once

#include <cstdint>
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
// convex hull (for each set of groups), which is enough wherever the cost is concave in the feature.
[[nodiscard]] Cloud cloud_of(const Problem& problem, bool hull_only);

// The features of one state of an element: edges, then τ for the own element.
void features_of(const Problem& problem, std::size_t element, int state,
                 std::vector<Complex>& features);

// Costs of one element's features.
struct Cost {
  std::vector<Complex> c;
  std::vector<double> w;  // empty: no error term
};

// The cost of each point of one element.
void point_costs(const PointSet& set, const Cost& cost, const std::vector<Complex>& base,
                 std::vector<double>& costs);

struct Chosen {
  Choice choice;
  double cost = 0;
};

// Nothing when no choice is credible. `base` has the features f0 of each element.
[[nodiscard]] std::optional<Chosen> cheapest(const Cloud& cloud, const std::vector<Cost>& costs,
                                             const std::vector<std::vector<Complex>>& base);

// The choice that draws most, by the sum of the cables' own conductances.
[[nodiscard]] std::optional<Choice> heaviest_choice(const Problem& problem);

// Any credible choice.
[[nodiscard]] std::optional<Choice> any_choice(const Problem& problem);

}  // namespace evenleg
