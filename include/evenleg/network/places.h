// Where a neutral can open: every neutral conductor that more than one leg uses.
//
// The service and each feeder always; a multiwire's shared run where its circuits sit on different
// legs; and each further length of that neutral up to an outlet with more than one hot.
#pragma once

#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

enum class PlaceKind { Service, Feeder, SharedRun, SharedLength };

struct Place {
  std::string name;  // "service", the panel's, the multiwire's or the outlet's name
  PlaceKind kind = PlaceKind::Service;
  int panel = 0;   // Service, Feeder: the panel that the conductor feeds
  int cable = -1;  // SharedRun, SharedLength: the length of this cable that ends at `box`
  int box = -1;

  bool operator==(const Place&) const = default;
};

[[nodiscard]] inline bool in_cable(const Place& place) { return place.cable >= 0; }

// The neutral at a place, as it reads in a sentence: `the shared neutral of "Kitchen counter"`.
[[nodiscard]] std::string neutral_at(PlaceKind kind, std::string_view name);
[[nodiscard]] inline std::string neutral_at(const Place& place) {
  return neutral_at(place.kind, place.name);
}

inline constexpr double kOpen = std::numeric_limits<double>::infinity();

// A neutral conductor with `added_ohms` in series with its sound impedance; kOpen: removed.
struct NeutralFault {
  Place place;
  double added_ohms = kOpen;
};

// Service first, then feeders, multiwires' shared runs and their lengths, in the house's order.
[[nodiscard]] std::vector<Place> fault_places(const House& house, const Wiring& wiring);

}  // namespace evenleg
