// What a choice must satisfy to attain a given V, to first order with a rigorous bound on the rest.
//
// Every element's features that act on the same ports count only by their sum, so a choice x is
// known here by its *totals*: Y_f for each pair of ports, τ_j for each port of the own element.
// Totals lie within given ranges; c is their center, ΔY and Δτ the difference from it.
//
// To ask whether some choice attains V, the balance of the faulty neutral is replaced by τ · p = V,
// which leaves p almost independent of the choice. A neutral that floats lets any current be
// written as what the others bring, bᵀ Y p = g n, so that for any port k, with Z' = Z - Z_k bᵀ and
// b' = b + g Z_k,
//   p = E - Z' Y p - b' n.
// The k with the smallest error below is taken: at a V near the full leg-to-leg voltage the leg
// that carries V cannot carry current, and should not appear to. With M = [I + Z' Yc, b'; τcᵀ, 0],
// p(V) = pc + V ps, G the part of M^-1 from the first rows to p, gn its row to n,
//   p(x) = p(V) - (G Z' ΔY + ps Δτᵀ) p(x),
//   r(V, x) = r0 + V rs + a · ΔY p(x) - rs Δτ · p(x) = 0,   a = b - (G Z')ᵀ Yc b + g Z'ᵀ gn.
// Replacing p(x) by p(V) makes r affine in the totals. The rest is a sum over pairs of totals,
//     at most Σ_f Σ_g |a_f| S_fg P_g |Δ_f| |Δ_g|,
// S_fg how many volts at f an ampere through g makes (from G Z' and ps), P_g the most that |p| can
// be at g: |p(V)| + D, where port by port D = K (|p(V)| + D), K = |G Z'| ρ + |ps| ρ_τᵀ and
// ρ_f >= |Δ_f|. What flows between two hots i and j acts by a_i - a_j, by rows and columns i less j
// and by p_i - p_j.
// A total is either *bounded*, |Δ_f| <= ρ_f the radius of its range about its center: then the
// error is of second order, halving the ranges takes it to a quarter. Or it is *priced*: c_f is
// that of a base choice, and |Δ_f(x)| <= Σ_e |y_e - base_e| is charged to the states that differ
// from it. That suits totals whose every change costs more than its price: then their range does
// not matter at all.
// Without a faulty neutral the balance of nothing is given up: r = V - V(x), p(V) = pc, rs = 1.
// That form also exists with one, with the balance kept in M; it is the better one where V hardly
// depends on the other leg, near the full leg-to-leg voltage.
// Where V is the current of a faulty neutral with ohms in it, V = s bᵀ Y p = s g n, holding it gives n
// outright: p(V) = G (E - b V / (s g)), G = (I + Z Yc)^-1, and the balance is the residual again,
//   r = bᵀ Yc p(V) - V / s + a · ΔY p(x),   a = b - (G Z)ᵀ Yc b.
#pragma once

#include <optional>
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

// Where a total is linearized: c_f, and ρ_f, the most that a total in its range differs from it.
struct Base {
  Complex center{};
  double radius = 0;
  bool priced = false;
};

// Every total at the center of its range.
[[nodiscard]] std::vector<Base> central(const std::vector<PlaneBox>& ranges);

class HeldForm {
 public:
  // `left_out`: the port k, kNone for none, or kFree for the form that keeps the balance.
  static constexpr int kNone = -1;
  static constexpr int kFree = -2;
  static constexpr int kJoint = -3;  // the amperes of the faulty neutral itself are held
  HeldForm(const Problem& problem, const Totals& totals, std::vector<Base> bases, int left_out);

  [[nodiscard]] bool usable() const { return usable_; }  // the error has a bound, rounding is small
  [[nodiscard]] int left_out() const { return left_out_; }
  // r(v, x) = at_center + Σ_f coefficients_f (total_f - c_f), up to the error.
  [[nodiscard]] Complex at_center(Complex v) const { return r0_ + v * rs_; }
  void coefficients(Complex v, std::vector<Complex>& c) const;
  [[nodiscard]] const std::vector<Base>& bases() const { return bases_; }
  // The part of the error that all choices share; `prices`: what |Δ_f| adds to it, 0 for bounded
  // totals.
  [[nodiscard]] double error(Complex v, std::vector<double>& prices) const;
  // The error at most, in V.
  [[nodiscard]] double error_in_v(Complex v) const;
  // How much of the error each total's range is to blame for.
  [[nodiscard]] std::vector<double> shares(Complex v) const;

 private:
  void linearize_held(const Matrix& y, const Vector& tau, int left_out);
  void linearize_sound(const Matrix& y, const Vector& tau);
  void linearize_joint(const Matrix& y);
  [[nodiscard]] bool well_held() const;
  void bound_error();
  [[nodiscard]] Complex response(std::size_t f, std::size_t g) const;  // S_fg, signed
  [[nodiscard]] Eigen::VectorXd most_volts(Complex v) const;           // P_g

  const Problem& problem_;
  const Totals& totals_;
  std::vector<Base> bases_;
  int left_out_ = -1;
  Complex r0_{}, rs_{};
  Vector pc_, ps_, a_;
  Matrix gz_;
  Eigen::MatrixXd amplify_;  // (I - K)^-1 K
  Eigen::MatrixXd weights_;  // |a_f| S_fg
  bool usable_ = true;
};

// s, where V is so many times the current of a faulty neutral that still has a way back.
[[nodiscard]] std::optional<Complex> share_of_joint(const Problem& problem);

// The ports that may be left out, kNone, kFree and kJoint: the forms that there are.
[[nodiscard]] std::vector<int> ways_of(const Problem& problem);

}  // namespace evenleg
