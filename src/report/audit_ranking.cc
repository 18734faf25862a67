#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

// "2: Kettle, Toaster": how many other loads run in that state, and which, the largest first.
std::string others_on(const AuditView& view, const RankRow& row) {
  constexpr std::size_t kMostNamed = 3;  // more never fit the column
  std::vector<int> others = row.on;
  others.erase(std::remove(others.begin(), others.end(), row.load), others.end());
  std::string text = std::to_string(others.size());
  const char* separator = ": ";
  std::size_t named = 0;
  for (int load : large_first(view.house, view.tables, others)) {
    if (named++ == kMostNamed) break;
    text += separator + view.load(load).name;
    separator = ", ";
  }
  return text;
}

std::string volts_cell(const AuditView& view, const RankRow& row, const OpenNeutral& open) {
  const LoadExtremes* extremes = extremes_of(open, row.load);
  if (extremes == nullptr || !extremes->highest) return shown(row.volts.si());
  return shown(view, extremes->highest, Side::Highest);
}

bool any_uncertain(const AuditView& view) {
  const auto uncertain = [&](const LoadExtremes& row) {
    return !is_certain(view, row.highest) || !is_certain(view, row.lowest);
  };
  const auto uncertain_outlet = [&](const OutletExtremes& row) {
    return !is_certain(view, row.highest) || !is_certain(view, row.lowest);
  };
  const Audit& audit = view.audit;
  return std::any_of(audit.open_neutral.begin(), audit.open_neutral.end(),
                     [&](const OpenNeutral& open) {
                       return std::any_of(open.loads.begin(), open.loads.end(), uncertain) ||
                              std::any_of(open.outlets.begin(), open.outlets.end(),
                                          uncertain_outlet);
                     }) ||
         std::any_of(audit.neutrals.begin(), audit.neutrals.end(),
                     [&](const NeutralRow& row) { return !is_certain(view, row.highest); });
}

std::string explanation(const AuditView& view, bool any_protected) {
  std::string text = paragraph(
      "V: the most that the load could see with that neutral open, over the credible states in "
      "which "
      "it is on. limit V: what it is taken to withstand without end. over: the first over the "
      "second. "
      "others on: how many other loads run then, the largest first.");
  if (any_protected)
    text += paragraph("* A neutral-loss device is described that would open first.");
  if (any_uncertain(view)) {
    text +=
        paragraph(view.audit.certified
                      ? "230 (≤ 240) would mean: 230 V was found, more is not ruled out, and no "
                        "credible state exceeds 240 V. (≥ …) says the same of a lowest figure; "
                        "(?) has no such bound."
                      : "(?): found, not proven; a credible state may go further.");
  }
  return text;
}

}  // namespace

std::string ranking_section(const AuditView& view, int rows) {
  const Audit& audit = view.audit;
  std::string text = heading("Worst first: each load where an open neutral hits it hardest");
  if (audit.ranking.empty()) return text + paragraph("No load to rank.");
  TextTable table({{"#", Align::Right},
                   {"load"},
                   {"outlet"},
                   {"open at"},
                   {"V", Align::Right},
                   {"limit V", Align::Right},
                   {"over", Align::Right},
                   {"severity"},
                   {"others on"}});
  bool any_protected = false;
  const std::size_t shown_rows = std::min(audit.ranking.size(), static_cast<std::size_t>(rows));
  for (std::size_t i = 0; i < shown_rows; ++i) {
    const RankRow& row = audit.ranking[i];
    const OpenNeutral& open = audit.open_neutral[static_cast<std::size_t>(row.place)];
    any_protected = any_protected || open.protected_by;
    table.add({std::to_string(i + 1), view.load(row.load).name, view.load(row.load).at,
               open.place.name + (open.protected_by ? " *" : ""), volts_cell(view, row, open),
               shown(row.withstands.si()), fixed(row.over, 2), row.severity, others_on(view, row)});
  }
  text += table.text();
  if (shown_rows < audit.ranking.size()) {
    text += paragraph(fmt::format("and {} more", audit.ranking.size() - shown_rows));
  }
  return text + explanation(view, any_protected);
}

}  // namespace evenleg
