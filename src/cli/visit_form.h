// A visit as a person goes through it: which question stands, and what a typed line does.
//
// Without a terminal: the caller shows the question and the lines of a reply. An answer is kept at
// once through `change`, which is one transaction of the house file; it is judged again on what the
// file holds by then, so that a change of another program meanwhile stays.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"
#include "evenleg/house/wiring.h"
#include "src/cli/visit_answers.h"
#include "src/cli/visit_questions.h"

namespace evenleg {

class VisitForm {
 public:
  using Change = std::function<void(const std::function<void(House&)>& edit)>;

  struct Reply {
    bool stops = false;
    std::vector<std::string> lines{};  // sentences
  };

  // Goes on where the house stands. Requires: validate() found nothing; `words` outlives the form.
  VisitForm(House house, const Vocabulary& words, std::string round, Change change);

  // nullptr at the end.
  [[nodiscard]] const Question* question() const;
  [[nodiscard]] std::size_t questions_before() const { return at_; }
  [[nodiscard]] const House& house() const { return house_; }

  // Requires: question() is not nullptr. `now`: for a new reading.
  Reply take(const std::string& line, const std::string& now);

 private:
  using Place = std::pair<std::string, std::string>;  // place and step

  void renew();
  void go_on_after(const Question& answered);
  [[nodiscard]] Place step_of(const Question& question) const;
  [[nodiscard]] std::vector<std::string> explanation(const Question& question) const;
  [[nodiscard]] Judged judge(const House& house, const Question& question,
                             const std::string& answer, const std::string& now, bool sure) const;
  void back();
  void pass(const Question& question);
  Reply answer(const Question& question, const std::string& given, const std::string& now);

  House house_;
  const Vocabulary& words_;
  std::string round_;
  Change change_;
  Wiring wiring_;
  std::vector<Question> questions_;
  std::size_t at_ = 0;
  std::string doubted_;        // the answer that was asked back; "" for none
  std::set<Place> confirmed_;  // steps whose yes was typed in this run
};

}  // namespace evenleg
