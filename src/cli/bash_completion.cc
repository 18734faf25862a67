#include "src/cli/bash_completion.h"

#include <fmt/format.h>

namespace evenleg {
namespace {

// What is the same whatever the commands are. _evenleg_command and _evenleg_value, made from the
// commands, set the variables that _evenleg declares.
constexpr std::string_view kHead =
    R"bash(# Completion of evenleg for bash, made from the program's own commands.

# Offers those of its words that start as the last word does, with their spaces escaped.
_evenleg_offer() {
  local one escaped
  for one in "$@"; do
    printf -v escaped '%q' "$one"
    if [[ $escaped == "$word"* ]]; then COMPREPLY+=("$before$escaped"); fi
  done
}

_evenleg_offer_what() {
  case $1 in
    file) compopt -o filenames 2> /dev/null; mapfile -t COMPREPLY < <(compgen -f -- "$word") ;;
    folder) compopt -o filenames 2> /dev/null; mapfile -t COMPREPLY < <(compgen -d -- "$word") ;;
    choice) _evenleg_offer "${choices[@]}" ;;
    list)
      if [[ $word == *,* ]]; then before=${word%,*},; word=${word##*,}; fi
      compopt -o nospace 2> /dev/null
      _evenleg_offer "${choices[@]}" ;;
  esac
}

_evenleg() {
  local word=${COMP_WORDS[COMP_CWORD]} before='' command='evenleg' option='' filled=0 i given one
  local takes choices commands options words
  COMPREPLY=()
  _evenleg_command "$command"
  # The words before the last one: which command they name, and whether an option waits for a value.
  for ((i = 1; i < COMP_CWORD; i++)); do
    given=${COMP_WORDS[i]}
    if [[ $given == '=' && -n $option ]]; then continue; fi  # bash parts --option=value
    if [[ -n $option ]]; then option=''; continue; fi
    if [[ $given == -* ]]; then
      _evenleg_value "$command" "$given"
      if [[ $takes != nothing ]]; then option=$given; fi
      continue
    fi
    for one in "${commands[@]}"; do
      if [[ $one == "$given" ]]; then
        command+=" $given"
        filled=-1
        _evenleg_command "$command"
        break
      fi
    done
    filled=$((filled + 1))
  done
  if [[ -n $option ]]; then
    if [[ $word == '=' ]]; then word=''; fi
    _evenleg_value "$command" "$option"
    _evenleg_offer_what "$takes"
  elif [[ $word == -* ]]; then
    _evenleg_offer "${options[@]}"
  elif ((filled < ${#words[@]})); then
    _evenleg_offer_what "${words[filled]}"
  else
    _evenleg_offer "${commands[@]}"
  fi
}
)bash";

// In single quotes, as bash reads it back unchanged.
std::string quoted(const std::string& text) {
  std::string safe = "'";
  for (const char letter : text)
    safe += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
  return safe + "'";
}

std::string_view word_for(const OptionEntry& option) {
  switch (option.takes) {
    case Takes::Nothing:
      return "nothing";
    case Takes::Text:
      return "text";
    case Takes::File:
      return "file";
    case Takes::Folder:
      return "folder";
    case Takes::Choice:
      return option.list ? "list" : "choice";
  }
  return "nothing";
}

// "audit" of "evenleg audit".
std::string last_word(const std::string& name) { return name.substr(name.rfind(' ') + 1); }

std::string command_cases(const CommandEntry& command) {
  std::string commands, options, words;
  for (const CommandEntry& one : command.commands) commands += " " + last_word(one.name);
  for (const OptionEntry& option : command.options) {
    for (const std::string& name : option.names) options += " " + name;
  }
  for (const OptionEntry& word : command.words) words += fmt::format(" {}", word_for(word));
  std::string text = fmt::format("    {})\n      commands=({} ) options=({} ) words=({} ) ;;\n",
                                 quoted(command.name), commands, options, words);
  for (const CommandEntry& one : command.commands) text += command_cases(one);
  return text;
}

std::string value_cases(const CommandEntry& command) {
  std::string text;
  for (const OptionEntry& option : command.options) {
    if (option.takes == Takes::Nothing) continue;
    std::string choices;
    for (const std::string& choice : option.choices) choices += " " + quoted(choice);
    for (const std::string& name : option.names) {
      text += fmt::format("    {}) takes={}{} ;;\n", quoted(command.name + " " + name),
                          word_for(option),
                          choices.empty() ? "" : fmt::format(" choices=({} )", choices));
    }
  }
  for (const CommandEntry& one : command.commands) text += value_cases(one);
  return text;
}

}  // namespace

std::string bash_completion(const CommandEntry& program) {
  return std::string(kHead) +
         "\n# What may follow the command $1.\n_evenleg_command() {\n  case $1 in\n" +
         command_cases(program) +
         "  esac\n}\n\n# What the option $2 of the command $1 takes.\n"
         "_evenleg_value() {\n  takes=nothing choices=()\n  case \"$1 $2\" in\n" +
         value_cases(program) + "  esac\n}\n\ncomplete -F _evenleg evenleg\n";
}

}  // namespace evenleg
