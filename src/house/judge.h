// Internal to house/validate.h: what all its checks share, and the list of faults that they fill.
//
// Each check goes on after a fault and skips only what it cannot judge any more, so that one slip
// is one line, and every other slip is still found.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "evenleg/house/validate.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

using NameIndex = std::unordered_map<std::string, int>;

template <class Record>
NameIndex first_by_name(const std::vector<Record>& records) {
  NameIndex index;
  for (std::size_t i = 0; i < records.size(); ++i) {
    index.emplace(records[i].name, static_cast<int>(i));
  }
  return index;
}

// The index of that name, or nothing.
[[nodiscard]] std::optional<int> find(const NameIndex& index, const std::string& name);
[[nodiscard]] std::vector<std::string> names_in(const NameIndex& index);
// "name an existing panel, perhaps \"Main\"".
[[nodiscard]] std::string remedy_for_unknown(std::string_view kind, const std::string& name,
                                             const std::vector<std::string>& known);

class Judge {
 public:
  Judge(const House& judged, const Vocabulary& words);

  const House& house;
  const Vocabulary& vocabulary;
  const SupplySystem* system = nullptr;  // nullptr: not known
  NameIndex panels, circuits, multiwires, outlets, loads;

  // Worked out on the way; a panel or circuit whose legs are not known has none here.
  std::vector<WiredPanel> wired_panels;
  std::vector<std::vector<int>> circuit_legs;
  std::vector<int> circuit_multiwire;  // -1: none
  std::vector<HouseFault> faults;

  // Adds a fault, unless the value of that key was already found to be out of bounds.
  void fault(std::string_view kind, std::size_t index, std::string_view key, std::string what,
             std::string remedy);
  // The same for a value out of bounds: no other fault about this key follows.
  void bounds_fault(std::string_view kind, std::size_t index, std::string_view key,
                    std::string what);
  [[nodiscard]] bool out_of_bounds(std::string_view kind, std::size_t index,
                                   std::string_view key) const;

 private:
  std::set<std::tuple<std::string, std::size_t, std::string>> out_of_bounds_;
};

// True where every kind has few enough entries; the checks after it need that.
[[nodiscard]] bool judge_counts(Judge& judge);
void judge_fields(Judge& judge);    // every value by itself, and names
void judge_supply(Judge& judge);    // supply, service and every conductor
void judge_panels(Judge& judge);    // feeding; fills wired_panels
void judge_circuits(Judge& judge);  // legs; fills circuit_legs
void judge_spaces(Judge& judge);    // who sits in which space
void judge_cables(Judge& judge);    // multiwires and outlets; fills circuit_multiwire
void judge_loads(Judge& judge);
void judge_dwelling(Judge& judge);  // what a service calculation is given
void judge_records(Judge& judge);  // scenarios and readings

}  // namespace evenleg
