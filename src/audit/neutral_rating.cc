#include "src/audit/neutral_rating.h"

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

const Run& run_of(const House& house, const Wiring& wiring, const Place& place) {
  static const Run kNone;
  if (place.kind == PlaceKind::Service) return house.service ? house.service->run : kNone;
  if (place.kind == PlaceKind::Feeder) return house.panels[at(place.panel)].run;
  return wiring.cables[at(place.cable)].boxes[at(place.box)].run;
}

}  // namespace

std::optional<NeutralRating> neutral_rating(const House& house, const Wiring& wiring,
                                            const Tables& tables, const Place& place) {
  const Run& run = run_of(house, wiring, place);
  const auto& name = run.neutral ? run.neutral : run.conductor;
  const Conductor* conductor = name ? find_conductor(tables, *name) : nullptr;
  if (conductor == nullptr) return std::nullopt;
  const auto ampacity = branch_ampacity(*conductor);
  if (!ampacity) return std::nullopt;
  return NeutralRating{amps(*ampacity), short_form(conductor->ampacity_source)};
}

}  // namespace evenleg
