#include "evenleg/report/kind_limits.h"

#include <algorithm>
#include <numeric>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"

namespace evenleg {
namespace {

std::string figure_of(const LoadKind& kind) {
  if (kind.withstands_volts) return figure(*kind.withstands_volts) + " V";
  return figure(kPercent * kind.withstands) + " % of nameplate";
}

void count_in(std::vector<KindLimit>& limits, const LoadKind& kind, SourceList& sources) {
  const std::string figure = figure_of(kind);
  const std::string source = sources.mark(kind.withstands_source);
  auto entry = std::find_if(limits.begin(), limits.end(), [&](const KindLimit& known) {
    return known.figure == figure && known.source == source;
  });
  if (entry == limits.end()) entry = limits.insert(limits.end(), {figure, source, {}, 0});
  ++entry->loads;
  if (std::count(entry->kinds.begin(), entry->kinds.end(), kind.name) == 0) {
    entry->kinds.push_back(kind.name);
  }
}

}  // namespace

std::vector<KindLimit> kind_limits(const House& house, const Tables& tables,
                                   const std::vector<int>& loads, SourceList& sources) {
  std::vector<KindLimit> limits;
  for (const int load : loads) {
    const LoadKind* kind = find_kind(tables, house.loads[at(load)].kind);
    if (!house.loads[at(load)].max_volts && kind != nullptr) count_in(limits, *kind, sources);
  }
  return limits;
}

std::size_t with_own_limit(const House& house, const std::vector<int>& loads) {
  return static_cast<std::size_t>(std::count_if(loads.begin(), loads.end(), [&](int load) {
    return house.loads[at(load)].max_volts.has_value();
  }));
}

std::vector<int> every_load(const House& house) {
  std::vector<int> all(house.loads.size());
  std::iota(all.begin(), all.end(), 0);
  return all;
}

}  // namespace evenleg
