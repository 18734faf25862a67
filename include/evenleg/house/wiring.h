// Where everything is connected: names resolved to indices, legs worked out from panel spaces, each
// outlet given the box upstream of it, each load its two ends, each run its conductor.
//
// A *cable* is a circuit's whole run with its outlets, or a multiwire's with all its circuits. Its
// *hots* are the ungrounded conductors that leave the panel, one for each pole of its circuits. Its
// *boxes* are the points of its tree: box 0 is the panel end, and every other box hangs on an earlier
// one by a length that carries some of the hots and one neutral.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// Index types: positions in the vectors of House, and of Wiring. -1 never occurs in a valid wiring
// except where a member says so.
struct WiredPanel {
  int fed_from = -1;      // -1: the service
  std::vector<int> legs;  // supply legs on its bus, ascending; row r sits on legs[r % size]
};

struct Hot {
  int circuit = 0;
  int panel = 0;  // where it leaves
  int leg = 0;    // supply leg

  bool operator==(const Hot&) const = default;
};

struct Box {
  int upstream = -1;       // an earlier box of the cable; -1 for box 0
  std::vector<int> hots;   // which hots of the cable reach it, ascending
  int outlet = -1;         // index in House::outlets, -1 for ends of runs and for the panel end
  Run run;                 // from `upstream`, conductor and neutral already inherited
  std::string neutral_place;  // the fault place of that length's neutral; "" where it is none
};

struct Cable {
  int multiwire = -1;  // index in House::multiwires, -1 for a circuit's own cable
  std::vector<int> circuits;
  std::vector<Hot> hots;
  int neutral_panel = 0;  // where its neutral leaves: the first circuit's panel
  std::vector<Box> boxes;
};

// An end of a load: a hot of its cable, or kNeutral.
inline constexpr int kNeutral = -1;

struct WiredLoad {
  int cable = 0;
  int box = 0;
  int from = 0;         // hot of the cable
  int to = kNeutral;    // hot of the cable, or kNeutral
  std::vector<int> circuits;  // one for each hot that it uses
};

struct Wiring {
  SupplySystem system;
  std::vector<WiredPanel> panels;
  std::vector<std::vector<int>> circuit_legs;  // [circuit][pole]: supply leg
  std::vector<int> circuit_panel;
  std::vector<Cable> cables;
  std::vector<int> circuit_cable;
  std::vector<int> outlet_cable, outlet_box;
  std::vector<WiredLoad> loads;
};

// Requires: validate(house, vocabulary) found nothing.
[[nodiscard]] Wiring wire(const House& house, const SupplySystem& system);

// Volts of a connection when the supply is at its nominal value: leg to neutral, or leg to leg.
[[nodiscard]] double nominal_volts(const SupplySystem& system, int from_leg, int to_leg_or_neutral);

// "L2-N", "L1-L2": the legs of a load or of two hots of a cable.
[[nodiscard]] std::string legs_text(const Wiring& wiring, const Cable& cable, int from, int to);

// The supply legs of a circuit's poles by its space, or by `legs`; empty when neither works out.
[[nodiscard]] std::vector<int> legs_of_circuit(const Circuit& circuit, const WiredPanel& panel,
                                               const SupplySystem& system);

// Feeding panels and bus legs; empty when the feeding is circular or names lead nowhere.
[[nodiscard]] std::vector<WiredPanel> wire_panels(const House& house, const SupplySystem& system);

}  // namespace evenleg
