// The sections of one neutral in depth in text, each a string of whole lines.
#pragma once

#include <optional>
#include <string>

#include "evenleg/report/neutral_text.h"
#include "evenleg/report/source_list.h"

namespace evenleg {

struct NeutralView {
  const House& house;
  const Tables& tables;
  const NeutralDepth& depth;
  NeutralTextOptions options;

  [[nodiscard]] const Load& load(int index) const {
    return house.loads[static_cast<std::size_t>(index)];
  }
  // That of the load's kind; nullptr where the tables have none.
  [[nodiscard]] const LoadKind* kind(int index) const {
    return find_kind(tables, load(index).kind);
  }
};

// The volts that a load beyond the joint withstands. All of these are on a leg and a neutral.
[[nodiscard]] std::optional<Volts> withstands(const NeutralView& view, int load);
// The loads beyond, in the order of their rows.
[[nodiscard]] std::vector<int> loads_beyond(const NeutralDepth& depth);
// Whether this point is where a limit is first reached.
[[nodiscard]] bool is_limit(const std::optional<NeutralLimit>& limit, const NeutralPoint& point);
// Whether each load is told there: sound, open and at the limits.
[[nodiscard]] bool told_by_load(const NeutralView& view, const NeutralPoint& point);

[[nodiscard]] std::string answer_section(const NeutralView& view, SourceList& sources);
[[nodiscard]] std::string legs_by_ohms(const NeutralView& view);
[[nodiscard]] std::string extremes_by_ohms(const NeutralView& view);
[[nodiscard]] std::string outlets_by_ohms(const NeutralView& view);
[[nodiscard]] std::string loads_by_ohms(const NeutralView& view);

}  // namespace evenleg
