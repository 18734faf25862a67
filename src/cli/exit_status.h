// What the program returns, and what each status means.
#pragma once

#include <array>
#include <string_view>

namespace evenleg {

inline constexpr int kDangerFound = 1;
inline constexpr int kWrongRequest = 2;
inline constexpr int kWrongFile = 3;

struct ExitStatus {
  int status = 0;
  std::string_view meaning;
};

inline constexpr std::array<ExitStatus, 4> kExitStatuses{{
    {0, "Done."},
    {kDangerFound, "Done, and a danger was found; with --fail-on-danger only."},
    {kWrongRequest, "The request or the description is wrong. Nothing was changed."},
    {kWrongFile, "A file cannot be read or written."},
}};

}  // namespace evenleg
