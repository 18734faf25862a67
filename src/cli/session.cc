#include "src/cli/session.h"

#include <cstdio>
#include <nlohmann/json.hpp>

namespace evenleg {

void print(std::string_view text) { std::fwrite(text.data(), 1, text.size(), stdout); }

void print_json(const nlohmann::ordered_json& answer) {
  constexpr int kIndent = 2;
  using Json = nlohmann::ordered_json;
  print(answer.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace evenleg
