// An answer of a visit, judged and put into the house.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "src/cli/visit_questions.h"

namespace evenleg {

// What is to be done with an answer.
struct Accepted {
  House house;  // with it
};
struct Refused {
  std::string line;  // what is wrong and what to do
};
struct Doubted {
  std::string line;  // unlikely; the same answer again is accepted
};
using Judged = std::variant<Accepted, Refused, Doubted>;

// `now`: "2026-03-14T10:20:00", for a new reading. `sure`: the answer was doubted and given again.
// Requires: the answer is not empty.
[[nodiscard]] Judged judge_answer(const House& house, const Wiring& wiring,
                                  const Question& question, const std::string& answer,
                                  const std::string& now, bool sure);

// The loads of the house, in the order of the numbers that `?` shows.
[[nodiscard]] std::vector<std::string> loads_to_choose(const House& house);

// Panels and outlets that this visit does not ask about yet.
[[nodiscard]] std::vector<std::string> places_to_choose(const House& house);

}  // namespace evenleg
