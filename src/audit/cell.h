// Ranges of the totals that a mix may have (held_form.h), and their sides as inequalities.
#pragma once

#include <utility>
#include <vector>

#include "src/audit/held_form.h"

namespace evenleg {

// A side of a total's range: Re(conj(direction) total) <= most.
struct Cut {
  std::size_t total = 0;
  Complex direction{1};
  double most = 0;
};

struct Cell {
  std::vector<PlaneBox> ranges;
  std::vector<Cut> cuts;  // those sides that some mix went beyond

  // Moves the cuts to where the ranges have narrowed to.
  void move_cuts();
  // Takes in the sides that these totals are beyond; false when there are none.
  bool cut_off(const std::vector<Complex>& totals);
};

// The cell in two, across the longer side of a total's range.
[[nodiscard]] std::pair<Cell, Cell> halves(const Cell& cell, std::size_t total);

}  // namespace evenleg
