#include "src/cli/provenance.h"

#include <fmt/format.h>

#include <ctime>

#include "evenleg/describe/describe.h"
#include "evenleg/store/store.h"
#include "src/cli/build_info.h"

namespace evenleg {
namespace {

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04}-{:02}-{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday);
}

}  // namespace

Provenance provenance_of(const std::filesystem::path& house_file, const House& house,
                         const std::string& date) {
  Provenance from;
  from.program = program_version();
  from.date = date.empty() ? today() : date;
  from.house_file = house_file.filename().string();
  if (is_house_file(house_file)) from.revision = house_file_revision(house_file);
  from.fingerprint = fingerprint(write_description(house));
  return from;
}

}  // namespace evenleg
