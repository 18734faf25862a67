// Where a record of a house comes from, as its foot tells.
#pragma once

#include <filesystem>
#include <string>

#include "evenleg/house/house.h"
#include "evenleg/record/record.h"

namespace evenleg {

// `date`: "" for today, by the machine's clock and time zone.
[[nodiscard]] Provenance provenance_of(const std::filesystem::path& house_file, const House& house,
                                       const std::string& date = {});

}  // namespace evenleg
