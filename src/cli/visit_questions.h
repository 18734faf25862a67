// What a visit asks, in order, worked out from the house as it stands.
//
// Every answer goes into the house at once: intake and instrument as fields of [visit], readings as
// [[reading]] whose label names the step ("visit: known load on L1"). So the house itself says how
// far the visit has come, and one that was cut off goes on after its last answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

enum class QuestionKind {
  Confirm,  // a typed yes, kept nowhere
  Text,     // a field of [visit]
  Choice,   // the same, one of a few
  Percent,  // the same, a number
  Place,    // one more place to read, or none
  Loads,    // which loads are on
  Volts,
  Amps,
};

struct Question {
  QuestionKind kind = QuestionKind::Text;
  std::string part;  // heading over the questions of one kind or step
  std::string prompt;
  std::string why;  // what "?" shows: why it is asked and how it is taken
  std::string key;  // of [visit]
  std::vector<std::string> choices;
  // Of a reading:
  std::string place;
  std::string step;  // its label
  bool main_off = false;
  bool loaded = false;  // volts then need a load or amperes beside them
  std::optional<double> Reading::*member = nullptr;
  double usual = 0;  // volts or amperes that are nothing special; 0 where anything is

  [[nodiscard]] bool of_reading() const { return !step.empty(); }
};

// `round`: what the labels of its readings begin with; another one leaves those of the first as
// they are, as after a repair.
[[nodiscard]] std::vector<Question> visit_questions(const House& house, const Wiring& wiring,
                                                    const std::string& round);

// The reading of a step, -1 when there is none yet.
[[nodiscard]] int reading_of_step(const House& house, const Question& question);
// The first panel, and what was named to be read beside it.
[[nodiscard]] bool is_read_already(const House& house, const std::string& place);
[[nodiscard]] bool is_answered(const House& house, const Question& question);
// The first question after the last answered one; within a step its first, since whatever was on
// may be off by now.
[[nodiscard]] std::size_t where_to_go_on(const House& house,
                                         const std::vector<Question>& questions);

// What stands above everything, before the first question.
[[nodiscard]] const std::vector<std::string>& visit_cautions();

}  // namespace evenleg
