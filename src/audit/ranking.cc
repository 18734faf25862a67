#include "src/audit/ranking.h"

#include <algorithm>
#include <cassert>

namespace evenleg {

Volts withstood_volts(const Load& load, const LoadModel& model, const Tables& tables) {
  if (load.max_volts) return volts(*load.max_volts);
  const LoadKind* kind = find_kind(tables, load.kind);
  assert(kind != nullptr);
  return volts(withstood_volts(*kind, load.volts.value_or(model.nominal_volts)));
}

std::vector<RankRow> rank(const House& house, const Model& model, const Tables& tables,
                          const std::vector<OpenNeutral>& open_neutral) {
  std::vector<std::optional<RankRow>> worst(house.loads.size());
  for (std::size_t place = 0; place < open_neutral.size(); ++place) {
    for (const LoadExtremes& load : open_neutral[place].loads) {
      if (!load.highest) continue;
      std::optional<RankRow>& row = worst[static_cast<std::size_t>(load.load)];
      // Places that differ by rounding only are the same; the first named is the one upstream.
      constexpr Volts kSame{1e-6};
      if (row && load.highest->value <= row->volts + kSame) continue;
      row = RankRow{load.load, static_cast<int>(place), load.highest->value, {}, 0, "",
                    load.highest->on};
    }
  }
  std::vector<RankRow> ranking;
  for (std::optional<RankRow>& row : worst) {
    if (!row) continue;
    const auto load = static_cast<std::size_t>(row->load);
    row->withstands = withstood_volts(house.loads[load], model.loads[load], tables);
    row->over = row->volts / row->withstands;
    row->severity = severity_of(tables, row->over).name;
    ranking.push_back(std::move(*row));
  }
  std::stable_sort(ranking.begin(), ranking.end(),
                   [](const RankRow& a, const RankRow& b) { return a.over > b.over; });
  return ranking;
}

}  // namespace evenleg
