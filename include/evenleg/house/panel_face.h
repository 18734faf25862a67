// A panel's face: which circuit or feeder sits in which space. Spaces run odd on the left and even
// on the right; each row is on one leg of the bus.
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

// One pole in a space: of a circuit, or of the feeder of another panel.
struct Seat {
  int circuit = -1;    // index, or -1
  int fed_panel = -1;  // index, or -1
  int pole = 0;        // 0 is the first

  bool operator==(const Seat&) const = default;
};

struct Position {
  int space = 0;
  int leg = 0;              // of the row, in the supply's order
  std::vector<Seat> seats;  // none: spare; two: a tandem breaker
};

struct PanelFace {
  int panel = 0;
  std::vector<Position> positions;  // space 1 first
  std::vector<int> by_legs_only;    // circuits that name no space
};

// Requires: wiring of that house.
[[nodiscard]] PanelFace face_of(const House& house, const Wiring& wiring, int panel);

// "M1" for a circuit of the first multiwire, "" for none.
[[nodiscard]] std::string multiwire_mark(const Wiring& wiring, int circuit);

// The breaker of what sits there, where it is described.
[[nodiscard]] std::optional<double> breaker_of(const Seat& seat, const House& house);

// What stands in a space: "Range (1 of 2) [M1]", "feeds Barn"; with " on L2" where its leg is not
// the row's.
[[nodiscard]] std::string seat_text(const Seat& seat, const Position& position, const House& house,
                                    const Wiring& wiring);

}  // namespace evenleg
