// What every command is given, and how each gives its answer.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class Option;
}

namespace evenleg {

struct Session {
  std::filesystem::path data;  // --data: a folder whose tables go before the built-in ones
  int status = 0;              // what the program returns when nothing was thrown

  // The words that an option takes, where they are few: for the shell's completion, which alone
  // asks for them. What is typed is judged by the command.
  std::map<const CLI::Option*, std::function<std::vector<std::string>()>> choices;
};

// The number of the JSON answers' format; it rises when a key changes its meaning.
inline constexpr int kAnswerFormat = 1;

// Standard output, as it is.
void print(std::string_view text);
// One JSON object and nothing else; text that is not UTF-8 is shown with replacement characters.
void print_json(const nlohmann::ordered_json& answer);

}  // namespace evenleg
