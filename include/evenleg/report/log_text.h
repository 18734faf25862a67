// What a recorder's log says, as text, as JSON and as a strip chart.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "evenleg/diagnose/log.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

struct LogView {
  const LogResult& log;
  const SupplySystem& system;
  std::string name;   // of the log
  std::string house;  // its name
  bool all = false;   // every hour and every event kept
};

// Sections for the text of `evenleg diagnose`.
[[nodiscard]] std::string log_text(const LogView& view);

[[nodiscard]] nlohmann::ordered_json log_json(const LogView& view);

// The worst hour as one SVG, least and most of each leg in 6 s columns, events named. Legs are told
// apart by their names and by pattern: L1 a solid band, L2 a hatched one.
[[nodiscard]] std::string log_chart(const LogView& view);

}  // namespace evenleg
