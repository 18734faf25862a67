// How loads behave by their own laws at one place and in one state, in plain text: the balance
// points, the course of failures, and a table of the volts at first and at last.
#pragma once

#include <string>

#include "evenleg/audit/behaviour.h"

namespace evenleg {

// Whole lines, indented by two, at most 100 columns. `every_point`: a table of each balance
// point and every step of the course.
[[nodiscard]] std::string behaviour_text(const House& house, const Tables& tables,
                                         const BehaviourResult& result, bool every_point = false);

}  // namespace evenleg
