// Houses as the commands take them in: a house file, or a description in its stead.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/house/house.h"
#include "evenleg/house/validate.h"
#include "evenleg/tables/tables.h"
#include "src/cli/session.h"

namespace evenleg {

[[nodiscard]] Tables tables_for(const Session& session);

// Throws: Error(File) when it cannot be read, Error(Request) with every fault of the house in it.
[[nodiscard]] House read_house(const std::filesystem::path& path, const Vocabulary& vocabulary);

// A name mistyped, or completed by a shell, must not cost a house. `instead`: words for another
// name of the output. Throws: Error(Request) where `out` is a house file.
void require_no_house_file(const std::filesystem::path& out, const std::string& instead);

// The faults of a house that has no text to point at: `file: circuit "Den": space`.
[[nodiscard]] std::vector<Fault> faults_in(const House& house, const Vocabulary& vocabulary,
                                           const std::filesystem::path& file);

}  // namespace evenleg
