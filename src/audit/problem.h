// What the worst-case search works on: the panels' equations of one fault place, the cables as
// elements, and one quantity V that is looked at.
//
//   p = E - Z Y p - b n,   bᵀ Y p = g n        (g = 1/ohms of the way back, 0 when there is none)
//
// Y is the sum of the elements' admittances in their chosen states. V is either τ · p, τ of the own
// element's state, or a fixed row times p, or the sum wᵀ Y p of port currents. Where no neutral of
// a service or feeder is at fault, b is zero and n is left out. The symbols are those of
// network/panel_system.h; how the search and the certificate follow is in linearization.h.
#pragma once

#include <span>
#include <vector>

#include "src/audit/element.h"

namespace evenleg {

// The equations above, with the faulty neutral's own ohms taken out of Z and into g.
struct Equations {
  Vector e;
  Matrix z;
  bool bordered = false;
  Vector b;
  Complex g{};
};

[[nodiscard]] Equations equations_of(const PanelSystem& system, const Model& model,
                                     const std::optional<NeutralFault>& fault);

// One state for each element.
using Choice = std::vector<int>;

struct Problem {
  const Equations* equations = nullptr;
  const Elements* elements = nullptr;
  int own = -1;                // the element looked into; -1: `row` or `w` says what V is
  std::vector<Complex> tau;    // [state of own * its ports + port]
  Vector row;                  // V = row · p
  Vector w;                    // V = wᵀ Y p
  std::vector<std::vector<int>> allowed;  // states of each element to choose from
  int shared_groups = 0;
};

// V is a voltage at given terminals, not a sum of currents.
[[nodiscard]] inline bool looks_at_volts(const Problem& problem) {
  return problem.own >= 0 || problem.row.size() > 0;
}

// No noncoincident group is used by two elements.
[[nodiscard]] bool groups_agree(const Elements& elements, const Choice& choice);
// The neutral at fault has a way back, or some load that is on joins it.
[[nodiscard]] bool is_joined(const Problem& problem, const Choice& choice);

// Adds the admittance of an edge between two ports, or of one port to its neutral (i = j).
template <class AnyMatrix>
void add_edge(AnyMatrix& y, int i, int j, Complex edge) {
  y(i, i) += edge;
  if (i == j) return;
  y(j, j) += edge;
  y(i, j) -= edge;
  y(j, i) -= edge;
}

[[nodiscard]] Matrix total_admittance(const Problem& problem, const Choice& choice);
// τ of the own element's state, spread over all ports; zero when there is none.
[[nodiscard]] Vector observation(const Problem& problem, const Choice& choice);

// Exact value of V for a choice; volts to a neutral that nothing joins are 0, nothing is fed there.
[[nodiscard]] Complex value(const Problem& problem, const Choice& choice);
// The ports' volts for admittances y; `bordered`: with the balance of the neutral at fault.
[[nodiscard]] Vector port_volts(const Equations& equations, const Matrix& y, bool bordered);
// The ports' volts for a choice; zero displacement where nothing joins a floating neutral.
[[nodiscard]] Vector port_volts(const Problem& problem, const Choice& choice);

}  // namespace evenleg
