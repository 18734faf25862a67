// `evenleg visit`: a guided form on the terminal; every answer is in the house file before the next
// question is asked.
#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <ctime>
#include <iostream>
#include <memory>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/visit_form.h"
#include "src/cli/visit_summary.h"

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

void require_sound(const House& house, const Vocabulary& words, const std::string& path) {
  std::vector<Fault> faults = faults_in(house, words, path);
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
}

struct VisitCommand {
  std::string house;
  std::string round{kFirstRound};

  // What goes on with it, as it would be typed.
  [[nodiscard]] std::string line(std::string_view command) const {
    const std::string further = round == kFirstRound ? "" : fmt::format(" --round \"{}\"", round);
    return fmt::format("`evenleg {} {}{}`", command, house, further);
  }
};

// The form on standard input and output.
class Dialogue {
 public:
  Dialogue(const VisitCommand& command, const Tables& tables)
      : command_(command), tables_(tables), words_(vocabulary(tables)), form_(started()) {}

  void run() {
    begin();
    while (form_.question() != nullptr) {
      if (!ask(*form_.question())) return pause();
    }
    finish();
  }

 private:
  [[nodiscard]] VisitForm started() const {
    if (command_.round.empty()) {
      throw Error(ErrorKind::Request,
                  {"--round", "the name is empty", "name the round, or leave it out"});
    }
    House house = load_house(command_.house);
    require_sound(house, words_, command_.house);
    return {std::move(house), words_, command_.round,
            [path = command_.house](const std::function<void(House&)>& edit) {
              change_house(path, edit);
            }};
  }

  void begin() const {
    const std::string name = name_of(form_.house());
    print(fmt::format("A visit to {}.\n\n", name.empty() ? command_.house : name));
    for (const std::string& caution : visit_cautions()) say("- " + caution);
    print("\n");
    say("Enter leaves a question out; ? explains it; back returns to the one before; quit stops, "
        "and the next visit goes on from there. Every answer is saved as you give it.");
    if (form_.questions_before() > 0 && form_.question() != nullptr) {
      print(fmt::format("\nGoing on after {} answered or passed earlier.\n",
                        counted(form_.questions_before(), "question")));
    }
  }

  // False: stop.
  bool ask(const Question& question) {
    if (question.part != part_) {
      part_ = question.part;
      print(fmt::format("\n{}\n", part_));
    }
    print(fmt::format("  {}: ", question.prompt));
    std::fflush(stdout);
    std::string line;
    if (!std::getline(std::cin, line)) {
      print("\n");
      return false;
    }
    if (!typed_) print(line + "\n");  // what a terminal would show
    const VisitForm::Reply reply = form_.take(line, now_text());
    for (const std::string& sentence : reply.lines) say(sentence, kReplyIndent);
    return !reply.stops;
  }

  void pause() const {
    print(fmt::format("\nStopped; {} in {}. {} goes on from here.\n",
                      counted(form_.house().readings.size(), "reading"), command_.house,
                      command_.line("visit")));
  }

  void finish() const {
    const std::string summary = visit_summary(form_.house(), command_.round, tables_);
    print("\n" + summary + (summary.empty() ? "" : "\n"));
    say(summary.empty()
            ? fmt::format("Done; no reading was taken. {} asks again.", command_.line("visit"))
            : fmt::format("Done. {} says what they support.", command_.line("diagnose")));
  }

  static constexpr int kReplyIndent = 4;

  VisitCommand command_;
  const Tables& tables_;
  Vocabulary words_;
  VisitForm form_;
  std::string part_;
  bool typed_ = ::isatty(STDIN_FILENO) != 0;
};

}  // namespace

void setup_visit(CLI::App& app, Session& session) {
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
  sub->callback([command, &session] {
    const Tables tables = tables_for(session);
    Dialogue(*command, tables).run();
  });
}

}  // namespace evenleg
