// What is noted while a description is read: where each entry and key stands, what is wrong, and
// which entries can no longer be judged.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/house/validate.h"
#include "src/describe/place.h"

namespace evenleg {

class Notes {
 public:
  // `name` stands for the file in messages.
  explicit Notes(std::string_view name) : name_(name) {}

  void stands_at(const Subject& subject, Place place);
  void fault(Place place, std::string what, std::string remedy);

  // A key of this entry is unknown: it may have been meant for one that is absent.
  void has_unknown_key(const Subject& entry) { unclear_.insert(id(entry)); }
  // A key of this entry has no usable value: what follows from it cannot be told.
  void is_spoiled(const Subject& entry) { spoiled_.insert(id(entry)); }
  // The house as a whole cannot be judged.
  void is_incomplete() { complete_ = false; }
  [[nodiscard]] bool complete() const { return complete_; }

  // Takes over what validate() said, at the places of its subjects, less what only repeats or
  // follows from a fault of reading.
  void add(const std::vector<HouseFault>& faults);

  // Throws: Error(Request) with all faults in text order, if there are any.
  void throw_faults();

 private:
  using EntryId = std::pair<std::string, int>;
  using KeyId = std::tuple<std::string, int, std::string>;
  static EntryId id(const Subject& entry) { return {entry.kind, entry.index}; }

  [[nodiscard]] bool has_place(const Subject& subject) const;
  [[nodiscard]] Place place_of(const Subject& subject) const;

  std::string name_;
  std::map<KeyId, Place> places_;
  std::vector<std::pair<Place, Fault>> faults_;
  std::set<EntryId> unclear_, spoiled_;
  bool complete_ = true;
};

}  // namespace evenleg
