// Volts on scales: every outlet as found and at worst; legs and extremes against the ohms of a
// neutral; readings as measured and as expected.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/neutral.h"
#include "evenleg/diagnose/estimate.h"
#include "evenleg/drawing/drawing.h"
#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// A pair of terminals, or what is plugged in there.
struct VoltsSpan {
  std::string name;
  std::string legs;                // "L1-N"; "" where it is not told
  std::optional<double> as_found;  // neutrals sound
  double lowest = 0;               // over all places and credible states, a neutral open
  double highest = 0;
  std::optional<double> withstands;
  bool empty = false;  // nothing described: `withstands` is what a plain load there would
};

// A limit of the supply, drawn as a band.
struct VoltsBand {
  double least = 0;
  double most = 0;
  std::string words;  // "service, range A, United States [3]"
};

// At most kSpansEach rows in each drawing, as many drawings as it takes; none for no rows.
inline constexpr std::size_t kSpansEach = 30;
[[nodiscard]] std::vector<Drawing> draw_volts_spans(const std::vector<VoltsSpan>& spans,
                                                    const std::optional<VoltsBand>& band,
                                                    const std::string& name,
                                                    const std::string& title);

// Legs as found, and the highest and lowest over credible states, from sound to open.
// `measured`: excess ohms that the readings gave.
[[nodiscard]] Drawing draw_neutral_ohms(const House& house, const NeutralDepth& depth,
                                        const std::optional<VoltsBand>& band,
                                        const std::optional<double>& measured);

// Volts of each leg to neutral, measured and expected. Absent where no such volts were used.
[[nodiscard]] std::optional<Drawing> draw_readings(const House& house, const SupplySystem& system,
                                                   const Estimation& estimation);

}  // namespace evenleg
