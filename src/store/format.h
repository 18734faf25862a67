// The rules under which a file is opened and judged. The public functions use current_format();
// tests put other migrations and a shorter wait in its place.
#pragma once

#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/store/store.h"
#include "src/store/schema.h"

namespace evenleg {

// Long enough for another program's change, which takes milliseconds; short enough for a person.
inline constexpr int kBusyMilliseconds = 5000;

struct Format {
  std::span<const std::string_view> migrations;
  int busy_milliseconds = kBusyMilliseconds;

  [[nodiscard]] int version() const { return static_cast<int>(migrations.size()); }
};

[[nodiscard]] inline Format current_format() { return {migrations()}; }

// The functions of store.h, under any format.
void create_house_file(const std::filesystem::path& path, const House& house, const Format& format);
[[nodiscard]] House load_house(const std::filesystem::path& path, const Format& format);
void change_house(const std::filesystem::path& path, const std::function<void(House&)>& change,
                  const Format& format);
void change_house_and_plans(
    const std::filesystem::path& path,
    const std::function<void(House&, std::vector<AppliedPlan>& applied)>& change,
    const Format& format);
[[nodiscard]] std::vector<std::string> check_house_file(const std::filesystem::path& path,
                                                        const Format& format);

}  // namespace evenleg
