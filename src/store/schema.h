// What makes an SQLite database a house file of ours, and every step of its schema since the first.
//
// On disk, never changed: kApplicationId; the text of a migration that has been released. A change
// of the schema is one more migration at the end of the list.
#pragma once

#include <span>
#include <string_view>

namespace evenleg {

// PRAGMA application_id: the ASCII letters "EvLg", so that a look at byte 68 of the file tells
// whose it is. Not registered with SQLite; no value in its list (magic.txt of SQLite 3.40) is the
// same.
inline constexpr int kApplicationId = 0x45764C67;

// migrations()[n] is the SQL that takes a file of version n (PRAGMA user_version) to version n + 1;
// from nothing, version 0, all of them in order make the present schema.
[[nodiscard]] std::span<const std::string_view> migrations();

}  // namespace evenleg
