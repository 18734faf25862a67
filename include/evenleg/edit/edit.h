// One edit of a house: something added, set or removed, by its kind, its name and the keys given.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

enum class Verb { Add, Set, Remove };

struct Edit {
  Verb verb = Verb::Add;
  std::string kind;  // as on the command line: "circuit", "transformer", "house"
  std::string name;  // "#2", or its place, for a reading or a finding; "" for single tables
  std::map<std::string, std::vector<std::string>> given;  // what stood after each key
  std::vector<std::string> clear;                         // keys to take away
  bool with_uses = false;  // Remove: and what hangs on it, but never a reading
};

struct EditKey {
  std::string key;
  std::string expected;              // "a number above 0"
  std::vector<std::string> choices;  // the words that it takes; empty: any
};

// The kinds that can be edited, in the description's order, and the keys of each.
[[nodiscard]] std::vector<std::string> edited_kinds(Verb verb);
[[nodiscard]] std::vector<EditKey> keys_of(const std::string& kind);
// [house] and [visit] take any key.
[[nodiscard]] bool takes_any_key(const std::string& kind);
// [supply], [service] and the like are there once and have no name.
[[nodiscard]] bool is_single(const std::string& kind);
// The key that NAME stands for: "name", "at" for a reading, "where" for a finding.
[[nodiscard]] std::string name_key(const std::string& kind);

// Makes the change, by itself: whether the house is acceptable after it is for validate() to say.
// Throws: Error(Request) where the edit cannot be made.
void apply(const Edit& edit, House& house);

}  // namespace evenleg
