// What a choice must satisfy to attain a given V, to first order with a rigorous bound on the rest.
//
// Every element's features that act on the same ports count only by their sum, so a choice x is known
// here by its *totals*: Y_f for each pair of ports, τ_j for each port of the own element. Totals lie
// within given ranges; c is their center, ΔY and Δτ the difference from it.
//
// To ask whether some choice attains V, the balance of the faulty neutral is replaced by τ · p = V, which
// leaves p almost independent of the choice. A neutral that floats lets any current be written as
// what the others bring, bᵀ Y p = g n, so that for any port k, with Z' = Z - Z_k bᵀ and
// b' = b + g Z_k,
//   p = E - Z' Y p - b' n.
// The k with the smallest error below is taken: at a V near the full leg-to-leg voltage the leg that
// carries V cannot carry current, and should not appear to. With M = [I + Z' Yc, b'; τcᵀ, 0],
// p(V) = pc + V ps, G the part of M^-1 from the first rows to p, gn its row to n,
//   p(x) = p(V) - (G Z' ΔY + ps Δτᵀ) p(x),
//   r(V, x) = r0 + V rs + a · ΔY p(x) - rs Δτ · p(x) = 0,   a = b - (G Z')ᵀ Yc b + g Z'ᵀ gn.
// Replacing p(x) by p(V) makes r affine in the totals. The error is at most Σ_f |a_f| ρ_f D_f, where ρ is
// the radius of the ranges about c and, port by port,
//   D = K (|p(V)| + D),   K = |G Z'| ρ + |ps| ρ_τᵀ;
// what flows between two hots i and j acts by a_i - a_j and by columns i less j. It is of second order in
// the ranges: halving them takes it to a quarter.
// Without a faulty neutral the balance of nothing is given up: r = V - V(x), p(V) = pc, rs = 1. That
// form also exists with one, with the balance kept in M; it is the better one where V hardly depends on
// the other leg, near the full leg-to-leg voltage.
#pragma once

#include <vector>

#include "src/audit/cloud.h"

namespace evenleg {

// A rectangle of the complex plane.
struct PlaneBox {
  double re_least = 0, re_most = 0;
  double im_least = 0, im_most = 0;

  [[nodiscard]] Complex center() const {
    return {(re_least + re_most) / 2, (im_least + im_most) / 2};
  }
  [[nodiscard]] double radius() const;
  [[nodiscard]] bool empty() const { return re_least > re_most || im_least > im_most; }
};

// Which totals there are, and which of them each feature of each element adds to.
struct Totals {
  std::vector<std::pair<int, int>> edges;  // pairs of ports, first <= second
  std::vector<int> own_ports;              // τ of these follows the edges
  std::vector<std::vector<int>> of_element;

  [[nodiscard]] std::size_t size() const { return edges.size() + own_ports.size(); }
};

[[nodiscard]] Totals totals_of(const Problem& problem);
// The least ranges that hold every choice of the cloud.
[[nodiscard]] std::vector<PlaneBox> ranges_of(const Totals& totals, const Cloud& cloud);
// Exact V of the totals of any mix of choices.
[[nodiscard]] Complex value_of_totals(const Problem& problem, const Totals& totals,
                                      const std::vector<Complex>& sums);

class HeldForm {
 public:
  // `v`: about the value that will be asked for. `left_out`: the port k, -1 for none, kFree for the
  // form that keeps the balance, or kChoose.
  static constexpr int kChoose = -2;
  static constexpr int kFree = -3;
  HeldForm(const Problem& problem, const Totals& totals, const std::vector<PlaneBox>& ranges,
           Complex v, int left_out = kChoose);

  [[nodiscard]] bool usable() const { return usable_; }  // the error has a bound
  [[nodiscard]] int left_out() const { return left_out_; }
  // r(v, x) = at_center + Σ_f coefficients_f (total_f - center_f), up to error(v).
  [[nodiscard]] Complex at_center(Complex v) const { return r0_ + v * rs_; }
  void coefficients(Complex v, std::vector<Complex>& c) const;
  [[nodiscard]] const std::vector<Complex>& center() const { return center_; }
  [[nodiscard]] double error(Complex v) const;
  // How much of the error each total's range is to blame for.
  [[nodiscard]] std::vector<double> shares(Complex v) const;

 private:
  [[nodiscard]] int best_way(const Matrix& y, const Vector& tau, Complex v);
  void linearize(const Matrix& y, const Vector& tau, int left_out);
  void linearize_held(const Matrix& y, const Vector& tau, int left_out);
  void linearize_sound(const Matrix& y, const Vector& tau);
  void bound_error();
  [[nodiscard]] Eigen::VectorXd drift(const Vector& p) const;  // D
  [[nodiscard]] double sensitivity(std::size_t f) const;       // |a_f|
  [[nodiscard]] double drift_of(std::size_t f, const Eigen::VectorXd& d) const;

  const Problem& problem_;
  const Totals& totals_;
  std::vector<Complex> center_;
  std::vector<double> radius_;
  int left_out_ = -1;
  Complex r0_{}, rs_{};
  Vector pc_, ps_, a_;
  Matrix gz_;
  Eigen::MatrixXd amplify_;  // (I - K)^-1 K
  bool usable_ = true;
};

}  // namespace evenleg
