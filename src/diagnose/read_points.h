// Where the house was read: the points that the readings part it into, as a tree of wires.
//
// Point 0 is the first panel, read or not: that is where the neutral is bonded to ground. The
// others are the panels and outlets with a reading, in their cables the boxes with a load that was
// on and every box at which the ways to two of these part, and the panels that feed any of them or
// a load that was on. A *wire* of a point is one hot or the neutral (last) of the length that ends
// there; each hangs on a wire of a point upstream, or on the source. Units: ohms.
#pragma once

#include <string>
#include <vector>

#include "evenleg/network/model.h"

namespace evenleg {

struct Wire {
  int leg = kNeutral;  // supply leg, or kNeutral
  int hot = -1;        // of its cable; -1 at a panel
  int up_point = -1;   // -1: the source
  int up_wire = -1;
  Complex expected{};  // of the described runs between
};

struct ReadPoint {
  std::string name;  // the panel's or outlet's; "" for a box without outlet
  int panel = -1;    // this panel, or -1
  int cable = -1;    // or this box of a cable
  int box = -1;
  bool read = false;
  bool on_the_way = false;  // read, or upstream of a point that is
  std::vector<Wire> wires;

  [[nodiscard]] int neutral() const { return static_cast<int>(wires.size()) - 1; }
  // The first wire on that leg, -1 when none comes here.
  [[nodiscard]] int wire_of_leg(int leg) const;
};

// Where a cable begins: a wire of a point for each of its hots, and for its neutral.
struct CableStart {
  std::vector<int> points, wires;  // of each hot
  int neutral_point = -1;          // -1: no load of it was on, and it was not read
  int neutral_wire = -1;
  bool read = false;  // an outlet of it was; its loads then hang on its own points
};

// Where a load of a read cable hangs, if it was on.
struct LoadSpot {
  int point = -1;
  int from = 0;  // wires of the point
  int to = 0;
};

struct ReadPoints {
  std::vector<ReadPoint> points;   // each after those upstream of it
  std::vector<int> of_reading;     // point of each reading of the house
  std::vector<CableStart> cables;  // of each cable of the house
  std::vector<LoadSpot> loads;     // of each load of the house
};

// Requires: a valid house and its wiring. The transformer counts as part of the way to point 0: as
// R1, R2 and the neutral's share see it (-Z0 of a split winding, model.h).
[[nodiscard]] ReadPoints read_points(const House& house, const Wiring& wiring, const Model& model);

// The transformer's share of a hot and of the neutral on the way to the first panel.
[[nodiscard]] RunImpedance transformer_share(const Model& model, bool split_phase);

}  // namespace evenleg
