// `evenleg visit`: a guided form on the terminal; every answer is in the house file before the next
// question is asked.
#include <fmt/format.h>
#include <unistd.h>

#include <ctime>
#include <iostream>
#include <memory>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/readings_table.h"
#include "src/cli/visit_answers.h"

namespace evenleg {
namespace {

std::string now_text() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  constexpr std::size_t kRoom = 32;
  char text[kRoom];
  const std::size_t length = std::strftime(text, kRoom, "%Y-%m-%dT%H:%M:%S", &local);
  return {text, length};
}

void say(std::string_view text, int indent = 0) {
  for (const std::string& line : wrapped(text, kPageColumns - indent)) {
    print(std::string(static_cast<std::size_t>(indent), ' ') + line + "\n");
  }
}

// Asks from where the house stands until the end, "quit" or the end of input.
class Form {
 public:
  Form(std::string path, std::string round, const Tables& tables)
      : path_(std::move(path)),
        round_(std::move(round)),
        words_(vocabulary(tables)),
        house_(load_house(path_)) {
    if (round_.empty()) {
      throw Error(ErrorKind::Request,
                  {"--round", "the name is empty", "name the round, or leave it out"});
    }
    require_sound();
    renew();
    at_ = where_to_go_on(house_, questions_);
  }

  void run() {
    begin();
    while (at_ < questions_.size()) {
      if (!ask()) return pause();
    }
    finish();
  }

 private:
  enum class Next { Stay, Go, Stop };

  void require_sound() const {
    std::vector<Fault> faults = faults_in(house_, words_, path_);
    if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  }

  void renew() {
    wiring_ = wire(house_, *find_system(words_, house_.supply.system));
    questions_ = visit_questions(house_, wiring_, round_);
  }

  void begin() const {
    print(fmt::format("A visit to {}.\n\n", name_of(house_).empty() ? path_ : name_of(house_)));
    for (const std::string& caution : visit_cautions()) say("- " + caution);
    print("\n");
    say("Enter leaves a question out; ? explains it; back returns to the one before; quit stops, "
        "and "
        "the next visit goes on from there. Every answer is saved as you give it.");
    if (at_ > 0 && at_ < questions_.size()) {
      print(fmt::format("\nGoing on after {} answered or passed earlier.\n",
                        counted(at_, "question")));
    }
  }

  void show_part(const Question& question) {
    if (question.part == part_) return;
    part_ = question.part;
    print(fmt::format("\n{}\n", part_));
  }

  // False: stop.
  bool ask() {
    const Question& question = questions_[at_];
    show_part(question);
    print(fmt::format("  {}: ", question.prompt));
    std::fflush(stdout);
    std::string line;
    if (!std::getline(std::cin, line)) {
      print("\n");
      return false;
    }
    if (!typed_) print(line + "\n");  // what a terminal would show
    return take(question, trimmed(line)) != Next::Stop;
  }

  static std::string trimmed(const std::string& line) {
    const std::size_t from = line.find_first_not_of(" \t\r");
    if (from == std::string::npos) return "";
    return line.substr(from, line.find_last_not_of(" \t\r") - from + 1);
  }

  Next take(const Question& question, const std::string& answer) {
    if (answer == "quit") return Next::Stop;
    if (answer == "?") return explain(question);
    if (answer == "back") return back();
    if (answer.empty()) return pass(question);
    const bool sure = answer == doubted_;
    doubted_.clear();
    Judged judged = judge_answer(house_, wiring_, question, answer, now_text(), sure);
    if (const auto* refused = std::get_if<Refused>(&judged)) {
      say(refused->line + ".", 4);
      return Next::Stay;
    }
    if (const auto* doubt = std::get_if<Doubted>(&judged)) {
      say(doubt->line + ".", 4);
      doubted_ = answer;
      return Next::Stay;
    }
    const House& accepted = std::get<Accepted>(judged).house;
    if (const auto faults = faults_in(accepted, words_, path_); !faults.empty()) {
      say(fmt::format("{}; {}.", faults.front().what, faults.front().remedy), 4);
      return Next::Stay;
    }
    save(accepted);
    ++at_;
    if (question_adds_places_) renew_keeping_place();
    return Next::Go;
  }

  Next explain(const Question& question) {
    say(question.why, 4);
    if (is_answered(house_, question)) say("It is answered; another answer takes its place.", 4);
    if (question.kind == QuestionKind::Loads) {
      std::vector<std::string> loads = loads_to_choose(house_);
      for (std::size_t i = 0; i < loads.size(); ++i)
        loads[i] = fmt::format("{} {}", i + 1, loads[i]);
      say(fmt::format("{}", fmt::join(loads, ", ")), 4);
    }
    return Next::Stay;
  }

  Next back() {
    if (at_ > 0) --at_;
    part_.clear();
    return Next::Go;
  }

  // Nothing typed: a step that is not confirmed is left out whole.
  Next pass(const Question& question) {
    warn_without_current(question);
    const std::string step = question.step;
    const std::string place = question.place;
    ++at_;
    if (question.kind != QuestionKind::Confirm) return Next::Go;
    while (at_ < questions_.size() && questions_[at_].step == step &&
           questions_[at_].place == place) {
      ++at_;
    }
    return Next::Go;
  }

  // After the last ampere question of a loaded step: its current must come from somewhere.
  void warn_without_current(const Question& question) const {
    if (question.member != &Reading::neutral_amps) return;
    const int r = reading_of_step(house_, question);
    if (r < 0 || question.step.find(": known load") == std::string::npos) return;
    const Reading& reading = house_.readings[static_cast<std::size_t>(r)];
    if (!reading.on.empty() || reading.l1_amps || reading.l2_amps || reading.l3_amps) return;
    say("Neither a load nor amperes were given: this reading would count as taken with nothing on. "
        "back returns to them.",
        4);
  }

  // The file's own change, so that what another program did meanwhile is kept.
  void save(const House& with_answer) {
    const House before = house_;
    question_adds_places_ = with_answer.visit != before.visit && at_ + 1 == questions_.size();
    change_house(path_, [&](House& stored) {
      if (stored == before) {
        stored = with_answer;
      } else {
        stored.visit = with_answer.visit;
        stored.readings = with_answer.readings;
      }
    });
    house_ = with_answer;
  }

  // A place was added: its questions come before the last one, which asked for it.
  void renew_keeping_place() {
    const std::size_t last = at_ - 1;
    renew();
    at_ = last;
  }

  void pause() const {
    print(fmt::format("\nStopped; {} in {}. `evenleg visit {}` goes on from here.\n",
                      counted(house_.readings.size(), "reading"), path_, path_));
  }

  void finish() const {
    print("\n");
    const std::string table = readings_table(house_);
    if (!table.empty()) print(table + "\n");
    say(fmt::format(
        "Done. `evenleg diagnose {}` says what they support, and which reading is still "
        "missing.",
        path_));
  }

  std::string path_;
  std::string round_;
  Vocabulary words_;
  House house_;
  Wiring wiring_;
  std::vector<Question> questions_;
  std::size_t at_ = 0;
  std::string part_;
  std::string doubted_;
  bool question_adds_places_ = false;
  bool typed_ = ::isatty(STDIN_FILENO) != 0;
};

}  // namespace

void setup_visit(CLI::App& app, Session& session) {
  struct VisitCommand {
    std::string house;
    std::string round = "visit";
  };
  auto command = std::make_shared<VisitCommand>();
  CLI::App* sub = add_command(
      app, session, "visit", "take readings step by step",
      "evenleg visit Fernhill.house\n"
      "  evenleg visit Fernhill.house --round \"after repair\"\n\n"
      "Asks what people see, then for the readings: nothing on, a known load on each leg, all\n"
      "legs, the main off. It can be stopped at any question and goes on from there.");
  sub->add_option("HOUSE", command->house, "a house file")->required();
  sub->add_option("--round", command->round, "a further set of readings beside the first one")
      ->type_name("NAME");
  sub->callback(
      [command, &session] { Form(command->house, command->round, tables_for(session)).run(); });
}

}  // namespace evenleg
