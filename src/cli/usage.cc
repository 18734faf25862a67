#include "src/cli/usage.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

// The program, then the command, then for add, set and remove the kind: as far as they were given.
std::vector<const CLI::App*> chain_of(const CLI::App& app) {
  std::vector<const CLI::App*> chain{&app};
  for (auto next = app.get_subcommands(); !next.empty(); next = chain.back()->get_subcommands()) {
    chain.push_back(next.front());
  }
  return chain;
}

std::string command_of(const std::vector<const CLI::App*>& chain) {
  std::string text;
  for (std::size_t i = 1; i < chain.size(); ++i) {
    text += (text.empty() ? "" : " ") + chain[i]->get_name();
  }
  return text;
}

std::string see_help(const std::vector<const CLI::App*>& chain) {
  const std::string command = command_of(chain);
  return fmt::format("see `evenleg {}--help`", command.empty() ? "" : command + " ");
}

std::string perhaps(const std::string& word, const std::vector<std::string>& known,
                    const std::vector<const CLI::App*>& chain) {
  const auto close = nearest(word, known);
  return close ? fmt::format("perhaps {}", *close) : see_help(chain);
}

std::vector<std::string> options_of(const std::vector<const CLI::App*>& chain) {
  std::vector<std::string> names;
  for (const CLI::App* level : chain) {
    for (const CLI::Option* option : level->get_options()) {
      for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    }
  }
  return names;
}

std::vector<std::string> commands_of(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

// The option that a message of the parser is about, "--data" in "--data: 1 required TEXT missing".
std::string option_in(const std::string& message) {
  const std::size_t start = message.find("--");
  if (start == std::string::npos) return "the last word";
  return message.substr(start, message.find_first_of(":= ", start) - start);
}

Fault stray_word(const std::vector<const CLI::App*>& chain, const CLI::App& app,
                 const std::string& word) {
  const std::string command = command_of(chain);
  const std::string where = command.empty() ? "command line" : command;
  if (word.size() > 1 && word.front() == '-') {
    const std::string option = word.substr(0, word.find('='));
    const std::vector<std::string> known = options_of(chain);
    if (std::find(known.begin(), known.end(), option) != known.end()) {
      return {where, fmt::format("{} stands in the wrong place", option), see_help(chain)};
    }
    return {where, fmt::format("there is no option {}", option), perhaps(option, known, chain)};
  }
  const std::vector<std::string> commands = commands_of(app);
  if (!commands.empty() && app.get_subcommands().empty()) {
    return {
        where,
        fmt::format("there is no {} \"{}\"", command.empty() ? "command" : "kind of thing", word),
        perhaps(word, commands, chain)};
  }
  return {where, fmt::format("\"{}\" is one word too many", word),
          "put a name with spaces in it between quotes"};
}

}  // namespace

Fault usage_fault(const CLI::App& app, const CLI::ParseError& error) {
  const std::vector<const CLI::App*> chain = chain_of(app);
  const std::string command = command_of(chain);
  const std::string where = command.empty() ? "command line" : command;
  const std::string text = error.what();
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) ||
      dynamic_cast<const CLI::ConversionError*>(&error)) {
    return {where, fmt::format("{} is not used like this", option_in(text)), see_help(chain)};
  }
  for (const CLI::App* level : chain) {
    if (level->get_allow_extras()) continue;
    for (const std::string& word : level->remaining()) {
      if (word != "--") return stray_word(chain, *level, word);
    }
  }
  for (const CLI::App* level : chain) {
    for (const CLI::Option* option : level->get_options()) {
      if (option->get_required() && option->count() == 0) {
        return {where, fmt::format("{} is missing", option->get_name()), see_help(chain)};
      }
    }
  }
  if (chain.size() > 1 && chain.back()->get_require_subcommand_min() > 0) {
    return {where, "the kind of thing is missing",
            fmt::format("name one of: {}", fmt::join(commands_of(*chain.back()), ", "))};
  }
  return {where, "the command line cannot be understood", see_help(chain)};
}

}  // namespace evenleg
