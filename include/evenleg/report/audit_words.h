// What an audit says, before it takes a form: names of places, who is past what it withstands
// where, and the plain summary. Text, page and record all take their words from here.
//
// "Past" means more volts than the load is taken to withstand without end (RankRow::withstands).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/base/quoted.h"  // in_quotes: every text of a report quotes names so

namespace evenleg {

// "service", "feeder", "shared run", "shared length".
[[nodiscard]] std::string_view name_of(PlaceKind kind);

[[nodiscard]] std::vector<std::string> load_names(const House& house,
                                                  const std::vector<int>& loads);

// The same loads, largest nameplate first: those that explain a voltage are among the largest.
[[nodiscard]] std::vector<int> large_first(const House& house, const Tables& tables,
                                           std::vector<int> loads);

// "That takes "Kettle" and 3 more on, and all else off."
[[nodiscard]] std::string what_it_takes(const House& house, const Tables& tables,
                                        const std::vector<int>& on);

// What each load withstands, in volts, by load; absent where the ranking has no row for it.
[[nodiscard]] std::vector<std::optional<double>> withstood(const House& house, const Audit& audit);

// The loads that some credible state takes past what they withstand when this neutral opens.
[[nodiscard]] std::vector<int> past_at(const House& house, const Audit& audit,
                                       const OpenNeutral& open);

// That load's extremes with that neutral open, or nullptr.
[[nodiscard]] const LoadExtremes* extremes_of(const OpenNeutral& open, int load);

// Whether both extremes are there and proven.
[[nodiscard]] bool proven(const LoadExtremes& extremes);

// Two to four sentences, each a line of its own: how many loads, where, the worst one and what it
// takes, and what else was found.
[[nodiscard]] std::vector<std::string> audit_summary(const House& house, const Tables& tables,
                                                     const Audit& audit);

}  // namespace evenleg
