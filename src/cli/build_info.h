// Which program this is and how it was built. Nothing in it is of the clock, the machine or its
// folders, so that the same source built twice gives the same program.
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

struct BuildInfo {
  std::string_view version;      // "0.1.0"
  std::string_view description;  // in a few words
  std::string_view compiler;     // "GNU 12.2.0"
  std::string_view type;         // "Release"
  std::string_view commit;       // as of configuring; "unknown" outside a git checkout
};

[[nodiscard]] const BuildInfo& build_info();
[[nodiscard]] std::string program_version();  // "evenleg 0.1.0"

}  // namespace evenleg
