#include "evenleg/house/validate.h"

#include <fmt/format.h>

#include <algorithm>
#include <type_traits>

#include "evenleg/base/format.h"
#include "src/house/judge.h"

namespace evenleg {

std::optional<int> find(const NameIndex& index, const std::string& name) {
  const auto found = index.find(name);
  if (found == index.end()) return std::nullopt;
  return found->second;
}

std::vector<std::string> names_in(const NameIndex& index) {
  std::vector<std::string> names;
  for (const auto& entry : index) names.push_back(entry.first);
  std::sort(names.begin(), names.end());
  return names;
}

std::string remedy_for_unknown(std::string_view kind, const std::string& name,
                               const std::vector<std::string>& known) {
  const auto close = nearest(name, known);
  return close ? fmt::format("name an existing {}, perhaps \"{}\"", kind, *close)
               : fmt::format("name an existing {}", kind);
}

Judge::Judge(const House& judged, const Vocabulary& words)
    : house(judged),
      vocabulary(words),
      system(find_system(words, judged.supply.system)),
      panels(first_by_name(judged.panels)),
      circuits(first_by_name(judged.circuits)),
      multiwires(first_by_name(judged.multiwires)),
      outlets(first_by_name(judged.outlets)),
      loads(first_by_name(judged.loads)),
      wired_panels(judged.panels.size()),
      circuit_legs(judged.circuits.size()),
      circuit_multiwire(judged.circuits.size(), -1) {}

void Judge::fault(std::string_view kind, std::size_t index, std::string_view key, std::string what,
                  std::string remedy) {
  if (out_of_bounds(kind, index, key)) return;
  Subject subject{std::string(kind), static_cast<int>(index), std::string(key)};
  faults.push_back({std::move(subject), std::move(what), std::move(remedy)});
}

void Judge::bounds_fault(std::string_view kind, std::size_t index, std::string_view key,
                         std::string what) {
  fault(kind, index, key, std::move(what), "correct the value");
  out_of_bounds_.emplace(kind, index, key);
}

bool Judge::out_of_bounds(std::string_view kind, std::size_t index, std::string_view key) const {
  return out_of_bounds_.count({std::string(kind), index, std::string(key)}) > 0;
}

std::vector<HouseFault> validate(const House& house, const Vocabulary& vocabulary) {
  Judge judge(house, vocabulary);
  if (!judge_counts(judge)) return std::move(judge.faults);
  judge_fields(judge);
  judge_supply(judge);
  judge_panels(judge);
  judge_circuits(judge);
  judge_spaces(judge);
  judge_cables(judge);
  judge_loads(judge);
  judge_dwelling(judge);
  judge_records(judge);
  return std::move(judge.faults);
}

namespace {

template <class Record>
std::string named(std::string_view kind, const std::vector<Record>& records, int index) {
  const auto i = static_cast<std::size_t>(index);
  if (index < 0 || i >= records.size()) return std::string(kind);
  if constexpr (std::is_same_v<Record, Reading>) {
    return fmt::format("reading {} at \"{}\"", index + 1, records[i].at);
  } else if constexpr (std::is_same_v<Record, SiteFinding>) {
    return fmt::format("finding {}", index + 1);
  } else {
    if (records[i].name.empty()) return fmt::format("{} {}", kind, index + 1);
    return fmt::format("{} \"{}\"", kind, records[i].name);
  }
}

std::string entry_text(const Subject& subject, const House& house) {
  const std::string& kind = subject.kind;
  if (kind == "panel") return named(kind, house.panels, subject.index);
  if (kind == "circuit") return named(kind, house.circuits, subject.index);
  if (kind == "multiwire") return named(kind, house.multiwires, subject.index);
  if (kind == "outlet") return named(kind, house.outlets, subject.index);
  if (kind == "load") return named(kind, house.loads, subject.index);
  if (kind == "scenario") return named(kind, house.scenarios, subject.index);
  if (kind == "reading") return named(kind, house.readings, subject.index);
  if (kind == "finding") return named(kind, house.findings, subject.index);
  return kind;
}

}  // namespace

std::string described(const Subject& subject, const House& house) {
  const std::string entry = entry_text(subject, house);
  return subject.key.empty() ? entry : fmt::format("{}: {}", entry, subject.key);
}

}  // namespace evenleg
