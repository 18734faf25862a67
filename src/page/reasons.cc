#include "src/page/reasons.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/report/audit_words.h"

namespace evenleg {
namespace {

// "while "Kettle" and 3 more are on", the largest of the others first.
std::string while_on(const House& house, const Tables& tables, const RankRow& row) {
  std::vector<int> others = large_first(house, tables, row.on);
  std::erase(others, row.load);
  if (others.empty()) return "with nothing else on";
  const std::string& first = house.loads[at(others.front())].name;
  if (others.size() == 1) return fmt::format("while \"{}\" is on", first);
  return fmt::format("while \"{}\" and {} more are on", first, others.size() - 1);
}

std::string why_so_much(const House& house, const Tables& tables, const RankRow& row) {
  const Load& load = house.loads[at(row.load)];
  if (load.max_volts) return "as entered for this load";
  const LoadKind* kind = find_kind(tables, load.kind);
  if (kind == nullptr) return "";
  return fmt::format("as the tables have it for \"{}\" ({}; read: {})", kind->name,
                     short_form(kind->withstands_source), kind->withstands_source.read);
}

}  // namespace

std::vector<std::string> ranking_reasons(const House& house, const Tables& tables,
                                         const Audit& audit) {
  std::vector<std::string> reasons;
  for (const RankRow& row : audit.ranking) {
    const OpenNeutral& open = audit.open_neutral[at(row.place)];
    std::string reason = fmt::format(
        "With {} open it could see {} V {}: {} times the {} V that it is taken to withstand, {}.",
        neutral_at(open.place), figure(row.volts.si()), while_on(house, tables, row),
        fixed(row.over, 2), figure(row.withstands.si()), why_so_much(house, tables, row));
    if (open.protected_by) {
      reason += fmt::format(" A neutral-loss device is described at \"{}\" that would open first.",
                            *open.protected_by);
    }
    reasons.push_back(std::move(reason));
  }
  return reasons;
}

}  // namespace evenleg
