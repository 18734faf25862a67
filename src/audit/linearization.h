// How V depends on the choice, to first order with a rigorous bound on the rest.
//
// At a base choice Y0, τ0 two forms are used.
//
// Search (free): with λ the adjoint of the equations for V and l = Zᵀλp + λn b,
//   V(x) = V0 - l · ΔY p(x) + Δτ · p(x),       exact; with p(x) ≈ p(base) it is the gradient.
// This is the adjoint (Tellegen) sensitivity of a network (Director and Rohrer 1969; from memory).
//
// Certificate (V held): to ask whether some choice x attains a given V, replace the balance of the
// faulty neutral by τ · p = V. That leaves p almost independent of the choice: with
//   M = [I + Z Y0, b; τ0ᵀ, 0],  p(V) = pc + V ps,  G the part of M^-1 from the first rows to p,
// any choice x that attains V has, exactly, p(x) = p(V) - (G Z ΔY + ps Δτᵀ) p(x), and the balance
//   r(V, x) = r0 + V rs + a · ΔY p(x) - rs Δτ · p(x) = 0,   a = b - (Z^T G^T Y0 b) + g Z^T gn,
// gn the row of M^-1 to n. Replacing p(x) by p(V) leaves an error of at most D where, entry by entry,
//   D = K (|p(V)| + D),   K = |G Z| Ω + |ps| Tᵀ,   Ω >= |ΔY|, T >= |Δτ| over all choices,
// |G Z| Ω taken edge by edge (element.h), so that loads between two hots count for little.
// Without a faulty neutral (b = 0) the same holds with r = V - V(x), p(V) = p(base), rs = 1.
//
// Ω and T need not hold for every choice, only for those that may attain a V of the piece looked at.
// If in some direction the cost less its error is at least m_e for each element and o in all, such a
// choice exceeds the m_e by no more than A = -(o + Σ m_e) together, so for any μ >= 0
//   Σ_e |Δ_e| <= Σ_e max over states (|Δ_e| - μ (cost_e - m_e)) + μ A,
// convex combinations included (Lagrangian bound). `narrow` takes the least of several μ.
#pragma once

#include <optional>
#include <vector>

#include "src/audit/cloud.h"

namespace evenleg {

// The first-order cost of each element's features for Re(conj(direction) V), negative where it rises.
struct Gradient {
  Complex v{};              // V at the base
  std::vector<Cost> costs;  // of -(V(x) - V0), before a direction is applied
};

[[nodiscard]] Gradient gradient(const Problem& problem, const Choice& base);

class HeldForm {
 public:
  HeldForm(const Problem& problem, const Cloud& cloud, const Choice& base);

  // Costs of Re(conj(direction) r(v, x)) less its error; nothing when the error has no bound here.
  // `offset` is the part that does not depend on x.
  [[nodiscard]] bool costs(Complex v, Complex direction, std::vector<Cost>& costs,
                           double& offset) const;
  // r(v, base), exact.
  [[nodiscard]] Complex at_base(Complex v) const { return r0_ + v * rs_; }
  // r(v, x) to first order, and a bound on what that leaves out.
  [[nodiscard]] Complex first_order(Complex v, const Choice& choice, double& error) const;
  // Takes Ω and T down to what choices that attain a V between `corners` can have, by their cost in
  // `direction`. Gives 0 where no choice can, else by how much the error shrank.
  double narrow(const Cloud& cloud, const std::vector<Complex>& corners, Complex direction);
  [[nodiscard]] const std::vector<std::vector<Complex>>& base() const { return base_; }
  [[nodiscard]] bool usable() const { return usable_; }

 private:
  [[nodiscard]] Eigen::VectorXd drift(const Vector& p) const;  // D
  void element_cost(std::size_t n, const Vector& p, const Eigen::VectorXd& d, Cost& cost) const;

  // What bounds the change from the base: Ω by pairs of ports, T by port.
  struct Spread {
    Eigen::MatrixXd omega;  // upper half: edges
    Eigen::VectorXd tau;
  };
  [[nodiscard]] Spread spread_of(const Cloud& cloud,
                                 const std::vector<std::vector<double>>& excess, double mu) const;
  void use(const Spread& spread);

  const Problem& problem_;
  Spread spread_;
  Matrix gz_;  // G Z
  std::vector<std::vector<Complex>> base_;
  Complex r0_{}, rs_{};
  Vector pc_, ps_, a_;
  Eigen::MatrixXd amplify_;  // (I - K)^-1 K: D = amplify |p|
  bool usable_ = true;
};

// Multiplies each cost by a direction; with no error terms.
[[nodiscard]] std::vector<Cost> turned(const std::vector<Cost>& costs, Complex direction);

}  // namespace evenleg
