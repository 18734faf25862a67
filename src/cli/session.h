// What every command is given, and how each gives its answer.
#pragma once

#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

namespace evenleg {

struct Session {
  std::filesystem::path data;  // --data: a folder whose tables go before the built-in ones
  int status = 0;              // what the program returns when nothing was thrown
};

// The number of the JSON answers' format; it rises when a key changes its meaning.
inline constexpr int kAnswerFormat = 1;

// Standard output, as it is.
void print(std::string_view text);
// One JSON object and nothing else; text that is not UTF-8 is shown with replacement characters.
void print_json(const nlohmann::ordered_json& answer);

}  // namespace evenleg
