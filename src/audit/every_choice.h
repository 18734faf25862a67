// All joint choices of some elements, one after the other, with the ports' volts of each.
#pragma once

#include <optional>
#include <vector>

#include "src/audit/problem.h"

namespace evenleg {

// Moves on to the next joint choice of so many states each, the first element fastest, and gives the
// element that moved up, all before it being back at 0; nothing after the last.
[[nodiscard]] std::optional<std::size_t> next_choice(const std::vector<int>& sizes, Choice& choice);

[[nodiscard]] std::vector<int> state_counts(const Elements& elements);

// Elements later in the list change slowest, so that their admittances need not be added up again.
class EveryChoice {
 public:
  static constexpr int kMostPorts = 15;  // so that no room on the heap is needed
  using SmallMatrix = Eigen::Matrix<Complex, Eigen::Dynamic, Eigen::Dynamic, 0, kMostPorts + 1,
                                    kMostPorts + 1>;
  using SmallVector = Eigen::Matrix<Complex, Eigen::Dynamic, 1, 0, kMostPorts + 1, 1>;

  // Requires: at most kMostPorts ports, no element without states. Both outlive it.
  EveryChoice(const Equations& equations, const Elements& elements);

  [[nodiscard]] const Choice& choice() const { return choice_; }
  // Moves on; false after the last.
  bool next();
  // `joined`: some load joins the neutral at fault (problem.h). The displacement may follow the ports.
  [[nodiscard]] SmallVector port_volts(bool joined) const;

 private:
  void add_up(std::size_t element);

  const Equations& eq_;
  const Elements& elements_;
  std::vector<int> sizes_;
  Choice choice_;
  std::vector<SmallMatrix> from_;  // admittances of this element and the later ones
};

}  // namespace evenleg
