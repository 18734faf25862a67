// `evenleg add`, `evenleg set`, `evenleg remove`: one thing of a house file, with the keys of the
// description. The whole house is validated after the change, and a change that makes a new fault
// is refused: the file is then as it was.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/base/format.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "evenleg/edit/edit.h"
#include "evenleg/edit/edit_values.h"
#include "src/cli/input.h"

namespace evenleg {
namespace {

struct EditOptions {
  std::string house;
  Edit edit;
  bool json = false;
};

std::string done_text(Verb verb) {
  if (verb == Verb::Add) return "added";
  return verb == Verb::Set ? "set" : "removed";
}

// The free keys of [house] and [visit], as pairs of words: --owner "A. Ward", or --owner=….
void take_free_keys(const std::vector<std::string>& words, Edit& edit) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    constexpr std::size_t kDashes = 2;
    if (word.rfind("--", 0) != 0 || word.size() == kDashes) {
      throw Error(ErrorKind::Request,
                  {fmt::format("set {}", edit.kind), fmt::format("\"{}\" is not a key", word),
                   "write --key \"value\""});
    }
    const std::size_t equals = word.find('=');
    if (equals != std::string::npos) {
      edit.given[word.substr(kDashes, equals - kDashes)].push_back(word.substr(equals + 1));
    } else if (i + 1 < words.size()) {
      edit.given[word.substr(kDashes)].push_back(words[i + 1]);
      ++i;
    } else {
      throw Error(ErrorKind::Request,
                  {fmt::format("set {}", edit.kind), fmt::format("{} has no value", word),
                   "write --key \"value\", or --clear key"});
    }
  }
}

// Faults that were not there before. They are told apart by their text, since indices move.
std::vector<Fault> new_faults(const std::vector<Fault>& before, std::vector<Fault> after) {
  std::erase_if(after, [&](const Fault& fault) {
    return std::find(before.begin(), before.end(), fault) != before.end();
  });
  return after;
}

void run_edit(const EditOptions& options, const Session& session) {
  const Edit& edit = options.edit;
  if (edit.verb == Verb::Set && edit.given.empty() && edit.clear.empty()) {
    throw Error(ErrorKind::Request, {fmt::format("set {}", edit.kind), "no key is given",
                                     fmt::format("see `evenleg set {} --help`", edit.kind)});
  }
  const Vocabulary words = vocabulary(tables_for(session));
  change_house(options.house, [&](House& house) {
    const std::vector<Fault> before = faults_in(house, words, options.house);
    apply(edit, house);
    std::vector<Fault> faults = new_faults(before, faults_in(house, words, options.house));
    if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  });
  const std::string done = done_text(edit.verb);
  if (options.json) {
    return print_json({{"format", kAnswerFormat},
                       {"file", options.house},
                       {"done", done},
                       {"kind", edit.kind},
                       {"name", edit.name}});
  }
  const std::string name = edit.name.empty() ? "" : fmt::format(" \"{}\"", edit.name);
  print(fmt::format("{}: {} {}{}\n", options.house, done, edit.kind, name));
}

std::string meaning_of_name(const std::string& kind, Verb verb) {
  if (kind != "reading" && kind != "finding") return "its name";
  if (verb != Verb::Add) return "its place, or #2 for the second of all";
  return kind == "reading" ? "the panel or outlet where it was read" : "where it was seen";
}

void add_keys(CLI::App& command, Session& session, const std::shared_ptr<EditOptions>& options) {
  const Edit& edit = options->edit;
  for (const EditKey& key : keys_of(edit.kind)) {
    if (edit.verb == Verb::Add && key.key == name_key(edit.kind)) continue;  // NAME is it
    const auto* option = command
                             .add_option(
                                 "--" + key.key,
                                 [options, name = key.key](const CLI::results_t& given) {
                                   options->edit.given[name] = given;
                                   return true;
                                 },
                                 key.expected)
                             ->type_name("VALUE")
                             ->take_all();
    if (!key.choices.empty()) {
      session.choices[option] = [choices = key.choices] { return choices; };
    }
  }
  if (edit.verb != Verb::Set) return;
  command
      .add_option(
          "--clear",
          [options](const CLI::results_t& given) {
            for (const std::string& text : given) {
              for (std::string& key : split_at_commas(text)) options->edit.clear.push_back(key);
            }
            return true;
          },
          "keys to take away: as if never given")
      ->type_name("KEY,KEY")
      ->take_all();
}

std::string house_named(const std::string& house, const CLI::App* command) {
  if (!house.empty()) return house;
  const std::string verb = command->get_parent()->get_name();
  throw Error(ErrorKind::Request,
              {fmt::format("{} {}", verb, command->get_name()), "HOUSE is missing",
               fmt::format("write evenleg {} HOUSE {} …", verb, command->get_name())});
}

void add_kind(CLI::App& verb_command, Verb verb, const std::string& kind, const std::string& does,
              const std::shared_ptr<std::string>& house, Session& session) {
  auto options = std::make_shared<EditOptions>();
  options->edit.verb = verb;
  options->edit.kind = kind;
  CLI::App* command = verb_command.add_subcommand(kind, fmt::format("{} {} {}", does,
                                                                    kind == "outlet"  ? "an"
                                                                    : is_single(kind) ? "the"
                                                                                      : "a",
                                                                    kind));
  command->group("Kinds");
  if (!is_single(kind)) {
    command->add_option("NAME", options->edit.name, meaning_of_name(kind, verb))->required();
  }
  if (verb != Verb::Remove) add_keys(*command, session, options);
  if (takes_any_key(kind)) command->allow_extras();
  command->add_flag("--json", options->json, "answer as JSON");
  add_data_option(*command, session);
  command->callback([options, command, house, &session] {
    options->house = house_named(*house, command);
    if (takes_any_key(options->edit.kind)) take_free_keys(command->remaining(), options->edit);
    run_edit(*options, session);
  });
}

void setup_verb(CLI::App& app, Session& session, Verb verb, const std::string& name,
                const std::string& does, const std::string& example) {
  CLI::App* command = add_command(app, session, name, does, example);
  auto house = std::make_shared<std::string>();
  // Not `required()`: CLI11 would then take a kind for the house where the house was forgotten.
  command->add_option("HOUSE", *house, "the house file");
  command->require_subcommand(1);
  for (const std::string& kind : edited_kinds(verb)) {
    add_kind(*command, verb, kind, name, house, session);
  }
}

}  // namespace

void setup_edit(CLI::App& app, Session& session) {
  setup_verb(
      app, session, Verb::Add, "add", "add a circuit, an outlet, a load …",
      "evenleg add Fernhill.house circuit \"Den\" --space 7 --breaker_a 20\n"
      "  evenleg add Fernhill.house load \"Heater\" --at \"Den\" --kind heating --watts 1500\n"
      "  evenleg add Fernhill.house scenario \"Winter evening\" --share \"Range=0.4,Heater=1\"\n"
      "  evenleg add Fernhill.house reading \"Main\" --l1_n_volts 118.9 --l1_amps 12.1\n\n"
      "The keys are those of the house description: `evenleg add circuit --help` lists them.\n"
      "A list is written with commas, or by giving the key again; \"\\,\" is a comma in a name.\n"
      "A change that would make the house unsound is refused, and nothing is written.");
  setup_verb(
      app, session, Verb::Set, "set", "change keys of one thing",
      "evenleg set Fernhill.house circuit \"Den\" --breaker_a 15 --clear conductor,length_ft\n"
      "  evenleg set Fernhill.house circuit \"Den\" --name \"Study\"\n"
      "  evenleg set Fernhill.house reading \"#2\" --l1_amps 12.4\n"
      "  evenleg set Fernhill.house visit --by \"A. Ward\" --date 2026-03-14\n\n"
      "--clear takes optional keys away, as if they had never been given. A new --name is\n"
      "followed wherever the old one stands. Readings and findings are numbered from #1 in the\n"
      "order of the description; their place is enough where only one is there.\n`house` and "
      "`visit` take any key.");
  setup_verb(
      app, session, Verb::Remove, "remove", "remove one thing",
      "evenleg remove Fernhill.house load \"Heater\"\n"
      "  evenleg remove Fernhill.house finding \"#1\"\n\n"
      "What something else still refers to is not removed. An outlet listed after a removed one\n"
      "on the same circuit then follows the one before it.");
}

}  // namespace evenleg
