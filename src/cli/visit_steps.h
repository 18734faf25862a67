// The steps of a visit at one place and what each asks: nothing on, a known load on each leg, all
// legs, the main off.
#pragma once

#include <string>
#include <vector>

#include "src/cli/visit_questions.h"

namespace evenleg {

// Adds the questions of that panel or outlet, in order. `round`: as of visit_questions().
void add_place_questions(const House& house, const Wiring& wiring, const std::string& place,
                         const std::string& round, std::vector<Question>& all);

}  // namespace evenleg
