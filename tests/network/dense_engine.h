// The third engine: slow, obvious, and with nothing of the other two.
//
// Modified nodal analysis. Unknowns: the volts of every node, and the amperes of every conductor,
// of every load and of each leg of the source. Equations, each scaled to a largest coefficient of
// 1:
//   at each node but the reference   the amperes that leave add to zero
//   conductor    v_from - v_to - z i = 0;   removed: i = 0
//   load         y (v_from - v_to) - i = 0
//   source leg   v_terminal + sum over legs b of Zs[leg,b] i_b = E
// solved with Eigen's LU with full pivoting. A node whose volts the equations leave open (a neutral
// that hangs on nothing) shows in the kernel of the matrix, not by a search of the graph.
//
// Method: C. W. Ho, A. E. Ruehli, P. A. Brennan, The modified nodal approach to network analysis,
// IEEE Transactions on Circuits and Systems 22 (1975), 504-509 (reference from memory).
#pragma once

#include <vector>

#include "tests/network/circuit_elements.h"

namespace evenleg {

struct DenseSolution {
  std::vector<Complex> volts;           // by node
  std::vector<bool> open;               // by node: its volts have no single value
  std::vector<Complex> conductor_amps;  // from `from` to `to`
  std::vector<Complex> load_amps;
  std::vector<Complex> source_amps;  // out of each leg
  double residual = 0;               // greatest error in an equation
};

[[nodiscard]] DenseSolution solve_dense(const CircuitElements& elements);

}  // namespace evenleg
