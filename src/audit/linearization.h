// The first-order change of V with the choice: what the search climbs on.
//
// With λ the adjoint of the equations for V and l = Zᵀλp + λn b,
//   V(x) = V0 - l · ΔY p(x) + Δτ · p(x),       exact; with p(x) ≈ p(base) it is the gradient.
// This is the adjoint (Tellegen) sensitivity of a network (Director and Rohrer 1969; from memory).
// Where one element alone changes, p(x) at its ports follows from G, the volts that an ampere drawn
// there takes from them, and V is exact without another solution of the whole:
//   p(x) = (1 + G ΔY)⁻¹ p(base).
#pragma once

#include <vector>

#include "src/audit/cloud.h"

namespace evenleg {

// The first-order cost of each element's features for Re(conj(direction) V), negative where it rises.
struct Gradient {
  Complex v{};              // V at the base
  std::vector<Cost> costs;  // of -(V(x) - V0), before a direction is applied
  Vector p;                 // the ports' volts at the base
  Vector l;                 // of all ports, as above
  Matrix g;                 // G, of all ports
};

[[nodiscard]] Gradient gradient(const Problem& problem, const Choice& base);

// V with element `n` in `state`, the others as in `base`, whose gradient `here` is. Requires: the
// neutral at fault is joined before and after (is_joined), where there is one.
[[nodiscard]] Complex value_with(const Problem& problem, const Choice& base, const Gradient& here,
                                 std::size_t n, int state);

// Multiplies each cost by a direction.
[[nodiscard]] std::vector<Cost> turned(const std::vector<Cost>& costs, Complex direction);

}  // namespace evenleg
