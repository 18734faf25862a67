// The house file: one SQLite database for each house.
//
// Every change is one transaction: after a kill at any moment the file holds the old state or the
// new one, never a mix. `application_id` marks the file as ours, `user_version` counts migrations;
// a file from a newer program is refused with a sentence. Numbers are stored as the doubles that
// were written, text as UTF-8. The schema is described in DEVELOPERS.md.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

// Throws: Error(File) if the file exists already, or cannot be written.
void create_house_file(const std::filesystem::path& path, const House& house);

// Throws: Error(File) when it is absent, not a house file, damaged, or from a newer program.
// Opens read-only and never changes the file, with one exception: where a killed writer left its
// journal, that writer's change is undone first, for otherwise the file holds half of it.
[[nodiscard]] House load_house(const std::filesystem::path& path);

// Reads the house, lets `change` edit it, writes the difference back: all within one transaction
// that no other writer can enter. An exception from `change` leaves the file as it was. A file of
// an earlier version is migrated in the same transaction, after a copy beside it (NAME.v1-backup).
// Throws: as load_house; Error(File) when it cannot be written or stays locked.
void change_house(const std::filesystem::path& path, const std::function<void(House&)>& change);

// One key of a circuit or a load that a plan changed, as text; absent where the key was absent.
struct KeyChange {
  std::string kind;  // "circuit" or "load"
  std::string name;
  std::string key;  // "space", "legs" or "connect"
  std::optional<std::string> before;
  std::optional<std::string> after;  // never the same as `before`

  bool operator==(const KeyChange&) const = default;
};
using AppliedPlan = std::vector<KeyChange>;

// As change_house; `change` also edits the plans that were written into the house and not taken
// back since, the latest last. House and plans are written in the same transaction.
void change_house_and_plans(
    const std::filesystem::path& path,
    const std::function<void(House&, std::vector<AppliedPlan>& applied)>& change);

// What is wrong with the file itself: damage, broken references, an unknown version. Empty: sound.
// Throws: Error(File) when there is no such file or it cannot be opened.
[[nodiscard]] std::vector<std::string> check_house_file(const std::filesystem::path& path);

// How often the file has been changed: SQLite's own count, which every written transaction raises.
// Source: "SQLite Database File Format", section 1.3.9, file change counter.
// Throws: Error(File) when it cannot be read.
[[nodiscard]] std::uint32_t house_file_revision(const std::filesystem::path& path);

// True when the file starts as an SQLite database, whatever its name. Throws: Error(File) when it
// is there but cannot be read.
[[nodiscard]] bool is_house_file(const std::filesystem::path& path);

}  // namespace evenleg
