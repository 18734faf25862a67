// Takes the ranges of a cell down to what mixes that attain a V of the piece can have.
//
// Such a mix costs at most the error in direction φ, so what it costs more than the cheapest
// choice, summed over the elements, is at most an allowance A, and for any μ >= 0 and direction d
//     Re(conj(d) Y_f) <= Σ_elements max over states (Re(conj(d) y) - μ excess) + μ A
// (Lagrangian bound; mixes included, since what is maximized is convex in each element's point). At
// a V between the corners the mix costs no more than the error at one corner at least, so the
// ranges of all corners are joined.
#pragma once

#include <utility>
#include <vector>

#include "src/audit/separation.h"

namespace evenleg {

class Narrowing {
 public:
  // All three outlive it.
  Narrowing(const Totals& totals, const Cloud& cloud, const Separator& separator);

  // With φ and multipliers of a separation that excluded nothing. `worth`: the totals to take down.
  // False: no mix attains a V of the piece.
  [[nodiscard]] bool narrow(const View& view, const Separation& separation,
                            const std::vector<bool>& worth, Cell& cell) const;

 private:
  void tighten(std::size_t total, const std::vector<std::vector<double>>& excess, double allowance,
               PlaneBox& range) const;
  [[nodiscard]] double most_along(std::size_t total, bool imaginary, double sign, double width,
                                  const std::vector<std::vector<double>>& excess,
                                  double allowance) const;

  const Cloud& cloud_;
  const Separator& separator_;
  // By total: element, feature.
  std::vector<std::vector<std::pair<std::size_t, std::size_t>>> users_;
};

}  // namespace evenleg
