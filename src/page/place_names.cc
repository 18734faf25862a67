#include "src/page/place_names.h"

#include <algorithm>

namespace evenleg {
namespace {

std::string_view prefix_of(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::Service:
      return "";
    case PlaceKind::Feeder:
      return "feeder ";
    case PlaceKind::SharedRun:
      return "multiwire ";
    case PlaceKind::SharedLength:
      return "outlet ";
  }
  return "";
}

}  // namespace

std::string name_to_ask(const Place& place, const std::vector<Place>& places) {
  const auto same = std::count_if(places.begin(), places.end(),
                                  [&](const Place& other) { return other.name == place.name; });
  return same > 1 ? std::string(prefix_of(place.kind)) + place.name : place.name;
}

}  // namespace evenleg
