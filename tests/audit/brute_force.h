// The worst cases of a small house by trying every subset of its loads: what the audit's own
// search, enumeration and certificates are held against.
//
// Written from the definitions of the house description ("Credible states", "Worst case", "Fault
// places") and not from the audit: each of the 2^n states is judged by itself, and each that is
// credible is solved with the sparse engine, which the audit does not use. From the program it
// takes the wiring, the model's impedances and nameplates, and the list of fault places, which have
// tests of their own. Volts and amperes, RMS.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/network/solve.h"
#include "tests/network/house_states.h"

namespace evenleg {

// The least and the most seen; `seen` is false while nothing was.
struct Range {
  double lowest = std::numeric_limits<double>::infinity();
  double highest = -std::numeric_limits<double>::infinity();

  void take(double value);
  [[nodiscard]] bool seen() const { return lowest <= highest; }
};

struct EmptyTerminals {
  int outlet = 0;
  int cable = 0;
  int box = 0;
  int hot = 0;       // of the cable
  std::string legs;  // "L2-N"
  Range volts;
};

// What lies beyond one open neutral.
struct Beyond {
  Place place;
  std::vector<int> loads;    // with an end on a neutral beyond the place, ascending
  std::vector<Range> volts;  // of each of them
  std::vector<EmptyTerminals> empty;
  // Highest leg to neutral at the panel that a service's or feeder's neutral leads to, over the
  // states in which that neutral hangs on something.
  Range panel_leg_volts;
};

using OnStates = std::vector<std::vector<bool>>;

// Whether no rule of credible states forbids these loads to be on together.
[[nodiscard]] bool is_credible(const BuiltHouse& house, const std::vector<bool>& on);
[[nodiscard]] OnStates credible_subsets(const BuiltHouse& house);

[[nodiscard]] Solution solved(const BuiltHouse& house, const std::vector<bool>& on,
                              const std::optional<NeutralFault>& fault);
// Across empty terminals; 0 V where nothing is fed through the open neutral.
[[nodiscard]] double empty_volts(const Solution& solution, const EmptyTerminals& terminals);

// The loads and empty outlets beyond a place, nothing solved yet.
[[nodiscard]] Beyond beyond(const BuiltHouse& house, const Place& place);
[[nodiscard]] Beyond brute_force(const BuiltHouse& house, const OnStates& credible,
                                 const Place& place);

// Amperes of the neutral conductor at a place, all neutrals sound.
[[nodiscard]] double neutral_amps(const Solution& solution, const Place& place);
// The service, each feeder and each multiwire's shared run, on one leg or more.
[[nodiscard]] std::vector<Place> every_neutral(const BuiltHouse& house);

// The loads of `listed` are on, all others off.
[[nodiscard]] std::vector<bool> only(const BuiltHouse& house, const std::vector<int>& listed);

}  // namespace evenleg
