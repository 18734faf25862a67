// How loads by their own laws share the volts when a neutral opens or loosens: every balance point,
// whether it would hold, and what fails after what.
//
// A load that is on and returns through the broken neutral follows its kind's law (load_law.h);
// every other load stays the constant impedance of the reference, since its volts hardly move.
// Source, conductors and panels are all in it (src/network/behaviour_network.h). A measured load
// draws its measured amperes at its nameplate volts by its law.
//
// Balance. d: volts by which the neutral beyond the break is displaced against its near end. With d
// held, each load beyond draws by its law what its volts ask for, drops of the wiring included, and
//   F(d) = J(d) - d / Rn
// is the current that is left over at the floating point: J comes back towards the break, d / Rn
// goes through what was added (nothing when open). A balance point is F = 0 at which every load's
// status (running, locked out, stalled) agrees with the volts that it sees.
//
// Stability. The loads settle to their law within some cycles; meanwhile they are admittances, and
// a left-over current moves d its own way. A point holds when A = -dF/dd, as the real 2 by 2 matrix
// of the displacement's two parts, has positive determinant and trace: it then pulls back whichever
// way it is pushed. With everything in phase A is diagonal, its second entry the sum of secant
// admittances, and the test is the plain f1' + f2' + 1/Rn > 0. Constant admittances always pass:
// det = |Y|², trace = 2 G.
//
// How the points are found. With each load a (secant) admittance whose angle differs from any
// other's by 90 degrees or less, d lies in the union of the discs over each two sources as diameter
// (inscribed angle); earth return or Rn count as one more source, at 0. A disc around all of these
// is covered by a grid (each cell 1/24 of its width along the first two sources, 1/13 across). At
// each node the statuses that its volts allow are tried: that is the enumeration, and it is cut to
// those that can exist. F is continuous for given statuses; where it turns around along a cell's
// edge, there is a zero inside, and a Newton search starts there. Zeros whose indices cancel within
// a cell, as a stable and an unstable point about to merge, leave a least |F| among the nodes
// around: a search starts there as well, and once more with the point that it found divided out. In
// phase d keeps to a line and this is a scan for changes of sign. What it can miss: three points or
// more within a cell; a point at which A itself is zero (three equal constant powers alone on a
// wye; it would not hold); points that hold only while loads of one leg and like thresholds differ
// in status, where more than six loads can change theirs (they are then taken to change together);
// all_statuses tells when that, or a bound on the number of combinations, came into play.
//
// Cascade. Loads start as they ran before; the opening moves d at once, then each goes to its law,
// a share of the way at each step, dropping out, returning, stalling as its volts cross the
// thresholds. Where that comes to rest, the load that is furthest beyond the volts at which it
// fails opens (seconds to minutes against cycles); else a stalled motor's overload opens; and so on
// until nothing does. A sequence of statuses that repeats is told as cycling. Which of two comes
// first in fact can depend on the make: this is one consistent course, the same at each run.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "evenleg/network/load_law.h"
#include "evenleg/network/model.h"
#include "evenleg/network/places.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct BehavingLoad {
  int load = 0;
  Volts volts;  // NaN: nothing fixes it
  LoadStatus status = LoadStatus::Running;
  bool conducting = false;   // a varistor past its threshold
  bool past_failing = false;  // more volts than it lasts under
};

struct BalancePoint {
  VoltagePhasor displacement;
  bool stable = false;
  std::vector<BehavingLoad> loads;  // those on beyond the break, in the house's order
};

enum class CascadeEnd {
  Rests,       // at a balance point
  Floats,      // nothing that draws holds the neutral: its volts have no meaning
  Cycles,      // drops out and returns without end; volts are the highest seen
  NotSettled,  // neither, within the steps allowed
};

enum class CascadeCause { Opened, Failed, Tripped };  // Tripped: a stalled motor's overload

struct StatusChange {
  int load = 0;
  LoadStatus to = LoadStatus::Running;
};

struct CascadeStep {
  CascadeCause cause = CascadeCause::Opened;
  int load = -1;                      // which failed or tripped
  std::vector<StatusChange> changes;  // in their order, until it rested or began to repeat
  bool ran_away = false;  // at least one load dropped out or stalled on the way
  CascadeEnd end = CascadeEnd::Rests;
  VoltagePhasor displacement;  // where it rests
  bool stable = false;         // the point it rests at holds
  std::vector<BehavingLoad> loads;
};

struct BehaviourResult {
  bool any_law = false;  // some load beyond departs from constant impedance
  bool connected = false;  // some load beyond is on
  std::vector<BalancePoint> points;  // stable first, then by displacement
  bool all_statuses = true;  // false: loads of one leg and like thresholds changed together
  std::vector<CascadeStep> cascade;
};

// Whether the points hold a stable one.
[[nodiscard]] bool any_stable(const BehaviourResult& result);
[[nodiscard]] std::string_view sentence(CascadeEnd end);

// `on`: one for each load of the model. Deterministic.
[[nodiscard]] BehaviourResult behaviour(const Model& model,
                                        const std::vector<LoadBehaviour>& behaviours,
                                        const NeutralFault& fault, const std::vector<bool>& on);

}  // namespace evenleg
