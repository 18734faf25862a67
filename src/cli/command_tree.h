// The commands as plain values, read off the definitions that parse the command line and print its
// help: what the man page and the shell's completion are made of, so that nothing is written twice.
#pragma once

#include <string>
#include <vector>

namespace evenleg {

// What follows an option, or stands for a word to fill in.
enum class Takes { Nothing, Text, File, Folder, Choice };

struct OptionEntry {
  std::vector<std::string> names;  // "-h", "--help"; of a word to fill in "HOUSE"
  std::string value;               // "FILE.csv"; "" where nothing follows
  std::string does;
  Takes takes = Takes::Nothing;
  std::vector<std::string> choices;  // of Takes::Choice
  bool list = false;                 // several choices may be given, with commas between

  bool operator==(const OptionEntry&) const = default;
};

struct CommandEntry {
  std::string name;   // "evenleg add circuit"
  std::string usage;  // "evenleg add HOUSE circuit NAME [--option …]"
  std::string does;
  std::vector<OptionEntry> words;  // to fill in, in order
  std::vector<OptionEntry> options;
  std::vector<CommandEntry> commands;
  std::string footer;  // examples and remarks; "" where they are those of the command above
};

// The whole program.
[[nodiscard]] CommandEntry command_tree();

}  // namespace evenleg
