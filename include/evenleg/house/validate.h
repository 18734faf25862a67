// Is a house acceptable? All of what is wrong with it, not only the first thing.
//
// Structure only: names that lead nowhere, values out of bounds, spaces taken twice, loops, loads
// that cannot be connected as described. Whether the wiring is good is the audit's business.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// The entry and key that a fault is about, so that a reader of a description can give its line.
struct Subject {
  std::string kind;  // "circuit", "supply.transformer"
  int index = 0;     // which one of that kind, in the house's order; 0 for single tables
  std::string key;   // "" when the fault is about the entry as a whole

  bool operator==(const Subject&) const = default;
};

struct HouseFault {
  Subject subject;
  std::string what;
  std::string remedy;

  bool operator==(const HouseFault&) const = default;
};

[[nodiscard]] std::vector<HouseFault> validate(const House& house, const Vocabulary& vocabulary);

// "circuit \"Den\": breaker_a": a subject by name, where there is no line to point at.
[[nodiscard]] std::string described(const Subject& subject, const House& house);

}  // namespace evenleg
