// Circuits dropped on other spaces of a panel, as a person tries a plan by hand.
//
// A circuit takes the spaces from the one that it is dropped on. What sat there goes where the
// circuit came from, in the same order; loads that name legs follow their circuits. Nothing is
// moved into or out of half of a tandem breaker's place by an exchange, and a feeder stays.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

struct Drop {
  std::string circuit;
  int space = 0;
  std::optional<std::string> panel{};  // its own when absent
  std::vector<std::string> legs{};     // of half of a tandem breaker; else those of the spaces
  bool at_once = false;  // with those before and after it that say so, as a plan's moves are meant
};

// The house with the drops made, one after the other, runs of those that are at once together: of
// them nothing changes places but what they name. Requires: the house's legs are known.
// Throws: Error(Request) where one cannot be made.
[[nodiscard]] House with_drops(const House& house, const std::vector<Drop>& drops,
                               const Vocabulary& words);

// The same change of places said as one drop, at once, for each circuit that sits elsewhere than in
// `before`: what was dragged to and fro leaves no trace. Another house may follow from them where legs
// were named; whoever takes them looks. Requires: `after` is with_drops(before, drops, ...).
[[nodiscard]] std::vector<Drop> fewest_drops(const House& before, const House& after,
                                             const std::vector<Drop>& drops);

// What to say of the house that they make, as sentences: circuits of a multiwire on one leg, locked
// circuits moved.
[[nodiscard]] std::vector<std::string> drop_notes(const House& before, const House& after,
                                                  const Vocabulary& words);

}  // namespace evenleg
