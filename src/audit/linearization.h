// The first-order change of V with the choice: what the search climbs on.
//
// With λ the adjoint of the equations for V and l = Zᵀλp + λn b,
//   V(x) = V0 - l · ΔY p(x) + Δτ · p(x),       exact; with p(x) ≈ p(base) it is the gradient.
// This is the adjoint (Tellegen) sensitivity of a network (Director and Rohrer 1969; from memory).
#pragma once

#include <vector>

#include "src/audit/cloud.h"

namespace evenleg {

// The first-order cost of each element's features for Re(conj(direction) V), negative where it rises.
struct Gradient {
  Complex v{};              // V at the base
  std::vector<Cost> costs;  // of -(V(x) - V0), before a direction is applied
};

[[nodiscard]] Gradient gradient(const Problem& problem, const Choice& base);

// Multiplies each cost by a direction.
[[nodiscard]] std::vector<Cost> turned(const std::vector<Cost>& costs, Complex direction);

}  // namespace evenleg
