#include "evenleg/network/places.h"

#include "evenleg/base/quoted.h"

namespace evenleg {

std::vector<Place> fault_places(const House& house, const Wiring& wiring) {
  std::vector<Place> places{{"service", PlaceKind::Service, 0, -1, -1}};
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    places.push_back({house.panels[p].name, PlaceKind::Feeder, static_cast<int>(p), -1, -1});
  }
  for (std::size_t c = 0; c < wiring.cables.size(); ++c) {
    const Cable& cable = wiring.cables[c];
    for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
      const Box& box = cable.boxes[b];
      if (box.neutral_place.empty()) continue;
      const PlaceKind kind = box.outlet < 0 ? PlaceKind::SharedRun : PlaceKind::SharedLength;
      places.push_back(
          {box.neutral_place, kind, 0, static_cast<int>(c), static_cast<int>(b)});
    }
  }
  return places;
}

std::string neutral_at(PlaceKind kind, std::string_view name) {
  switch (kind) {
    case PlaceKind::Service:
      return "the service neutral";
    case PlaceKind::Feeder:
      return "the feeder neutral of " + in_quotes(name);
    case PlaceKind::SharedRun:
      return "the shared neutral of " + in_quotes(name);
    case PlaceKind::SharedLength:
      return "the shared neutral into " + in_quotes(name);
  }
  return "";
}

}  // namespace evenleg
