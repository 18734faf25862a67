// What the conductor of a neutral carries without end, where it is known.
#pragma once

#include <optional>
#include <string>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/places.h"
#include "evenleg/tables/tables.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct NeutralRating {
  Amps amps;
  std::string source;
};

[[nodiscard]] std::optional<NeutralRating> neutral_rating(const House& house, const Wiring& wiring,
                                                          const Tables& tables, const Place& place);

}  // namespace evenleg
