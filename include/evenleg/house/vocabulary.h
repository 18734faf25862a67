// The names that the data tables define, as the house module needs them to judge a description. The
// tables module fills it.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

struct Leg {
  std::string name;          // "L1"
  double angle_degrees = 0;  // of the source's leg-to-neutral voltage

  bool operator==(const Leg&) const = default;
};

struct SupplySystem {
  std::string name;            // "120/240 split-phase"
  double nominal_volts = 0;    // leg to neutral
  std::vector<Leg> legs;
  bool split_phase = false;    // two halves of one winding; otherwise phases of a wye

  bool operator==(const SupplySystem&) const = default;
};

struct Vocabulary {
  std::vector<SupplySystem> systems;
  std::vector<std::string> load_kinds;
  std::function<bool(std::string_view)> knows_conductor;
};

// The system of that name, or nullptr.
[[nodiscard]] const SupplySystem* find_system(const Vocabulary& vocabulary, std::string_view name);

}  // namespace evenleg
