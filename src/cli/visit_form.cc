#include "src/cli/visit_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "evenleg/house/validate.h"

namespace evenleg {
namespace {

std::string trimmed(const std::string& line) {
  const std::size_t from = line.find_first_not_of(" \t\r");
  if (from == std::string::npos) return "";
  return line.substr(from, line.find_last_not_of(" \t\r") - from + 1);
}

bool is_yes(const std::string& answer) { return answer == "yes" || answer == "Yes"; }

bool is_same(const Question& one, const Question& other) {
  return one.kind == other.kind && one.key == other.key && one.place == other.place &&
         one.step == other.step && one.member == other.member;
}

}  // namespace

VisitForm::VisitForm(House house, const Vocabulary& words, std::string round, Change change)
    : house_(std::move(house)),
      words_(words),
      round_(std::move(round)),
      change_(std::move(change)) {
  renew();
  at_ = where_to_go_on(house_, questions_);
}

const Question* VisitForm::question() const {
  return at_ < questions_.size() ? &questions_[at_] : nullptr;
}

VisitForm::Reply VisitForm::take(const std::string& line, const std::string& now) {
  const Question question = questions_[at_];  // a copy: an answer may change the list
  const std::string given = trimmed(line);
  if (given == "quit") return {true};
  if (given == "?") return {false, explanation(question)};
  if (given != "back" && !given.empty()) return answer(question, given, now);
  doubted_.clear();
  given.empty() ? pass(question) : back();
  return {};
}

void VisitForm::renew() {
  wiring_ = wire(house_, *find_system(words_, house_.supply.system));
  questions_ = visit_questions(house_, wiring_, round_);
}

VisitForm::Place VisitForm::step_of(const Question& question) const {
  return {question.place, question.step};
}

std::vector<std::string> VisitForm::explanation(const Question& question) const {
  std::vector<std::string> lines{question.why};
  if (is_answered(house_, question)) lines.emplace_back("It is answered; another takes its place.");
  if (question.kind == QuestionKind::Place) {
    lines.push_back(fmt::format("{}", fmt::join(places_to_choose(house_), ", ")));
    if (lines.back().empty()) lines.back() = "Every panel and outlet is among them already.";
  }
  if (question.kind != QuestionKind::Loads) return lines;
  std::vector<std::string> loads = loads_to_choose(house_);
  for (std::size_t i = 0; i < loads.size(); ++i) loads[i] = fmt::format("{} {}", i + 1, loads[i]);
  lines.push_back(fmt::format("{}", fmt::join(loads, ", ")));
  return lines;
}

// Into a step that was left out only through its confirmation.
void VisitForm::back() {
  if (at_ > 0) --at_;
  const Place step = step_of(questions_[at_]);
  const auto first = std::find_if(questions_.begin(), questions_.end(),
                                  [&](const Question& one) { return step_of(one) == step; });
  const bool asks = first->kind == QuestionKind::Confirm;
  if (asks && confirmed_.count(step) == 0)
    at_ = static_cast<std::size_t>(first - questions_.begin());
}

// A step that is not confirmed is left out whole.
void VisitForm::pass(const Question& question) {
  ++at_;
  if (question.kind != QuestionKind::Confirm) return;
  confirmed_.erase(step_of(question));
  while (at_ < questions_.size() && step_of(questions_[at_]) == step_of(question)) ++at_;
}

Judged VisitForm::judge(const House& house, const Question& question, const std::string& answer,
                        const std::string& now, bool sure) const {
  const Wiring wiring = wire(house, *find_system(words_, house.supply.system));
  Judged judged = judge_answer(house, wiring, question, answer, now, sure);
  if (const auto* accepted = std::get_if<Accepted>(&judged)) {
    const std::vector<HouseFault> faults = validate(accepted->house, words_);
    if (!faults.empty()) return Refused{faults.front().what + "; " + faults.front().remedy};
  }
  return judged;
}

VisitForm::Reply VisitForm::answer(const Question& question, const std::string& given,
                                   const std::string& now) {
  const bool sure = !doubted_.empty() && (given == doubted_ || is_yes(given));
  const std::string meant = sure ? doubted_ : given;
  doubted_.clear();
  Judged judged = judge(house_, question, meant, now, sure);
  if (std::holds_alternative<Accepted>(judged) && question.kind != QuestionKind::Confirm) {
    change_([&](House& stored) {
      if (!(stored == house_)) judged = judge(stored, question, meant, now, true);
      if (const auto* accepted = std::get_if<Accepted>(&judged)) stored = accepted->house;
    });
  }
  if (const auto* refused = std::get_if<Refused>(&judged)) return {false, {refused->line + "."}};
  if (const auto* doubt = std::get_if<Doubted>(&judged)) {
    doubted_ = meant;
    return {false, {doubt->line + "."}};
  }
  house_ = std::get<Accepted>(std::move(judged)).house;
  if (question.kind == QuestionKind::Confirm) confirmed_.insert(step_of(question));
  go_on_after(question);
  return {};
}

// The list is worked out anew, since the house may have changed beyond the answer.
void VisitForm::go_on_after(const Question& answered) {
  const std::size_t before = questions_.size();
  renew();
  const auto same = std::find_if(questions_.begin(), questions_.end(),
                                 [&](const Question& one) { return is_same(one, answered); });
  if (same != questions_.end()) at_ = static_cast<std::size_t>(same - questions_.begin()) + 1;
  // A place that was added is asked about next; its questions stand before the one for a further.
  if (answered.kind == QuestionKind::Place && questions_.size() > before) at_ = before - 1;
  at_ = std::min(at_, questions_.size());
}

}  // namespace evenleg
