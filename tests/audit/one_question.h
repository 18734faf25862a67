// What the worst case asks about one load beyond an open service or feeder neutral, put together by hand.
#pragma once

#include <memory>

#include "evenleg/audit/credible.h"
#include "src/audit/held_form.h"
#include "tests/network/dice.h"
#include "tests/network/house_states.h"

namespace evenleg {

struct Question {
  Equations equations;
  Elements elements;
  Problem problem;  // points to the above
};

// Nothing when some cable has no credible state. Requires: a service or feeder.
[[nodiscard]] std::unique_ptr<Question> question_about(const BuiltHouse& house,
                                                       const Credible& credible,
                                                       const Place& place, int load);

// Any choice of the allowed states; noncoincident groups may clash.
[[nodiscard]] Choice any_states(const Problem& problem, Dice& dice);

// The totals of a choice.
[[nodiscard]] std::vector<Complex> sums_of(const Problem& problem, const Totals& totals,
                                           const Choice& choice);

}  // namespace evenleg
