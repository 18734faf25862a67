#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

// The largest other load that runs in that state.
std::string largest_other(const AuditView& view, const RankRow& row) {
  std::vector<int> others = row.on;
  others.erase(std::remove(others.begin(), others.end(), row.load), others.end());
  if (others.empty()) return "-";
  return view.load(large_first(view.house, view.tables, others).front()).name;
}

// The volts, and whether they are known to be the most; the bound stands with the place.
std::string volts_cell(const AuditView& view, const RankRow& row, const OpenNeutral& open) {
  const LoadExtremes* extremes = extremes_of(open, row.load);
  const bool certain = extremes != nullptr && is_certain(view, extremes->highest);
  return shown(row.volts.si()) + (certain ? "" : " ?");
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
      "which it is on. limit V: what it is taken to withstand without end. over: the first over "
      "the second. on, with: how many loads run then, and the largest of the others.");
  if (any_protected) {
    text += paragraph("* A neutral-loss device is described that would open first.");
  }
  if (any_uncertain(view)) {
    text += paragraph("?: found, not proven; a credible state may go further.");
    if (view.audit.certified) {
      text += paragraph(
          "230 (≤ 240) further down: 230 V was found, more is not ruled out, and no "
          "credible state exceeds 240 V; (≥ ...) says the same of a lowest figure.");
    }
  }
  return text;
}

}  // namespace

std::string ranking_section(const AuditView& view, int rows) {
  const Audit& audit = view.audit;
  std::string text = heading("Worst first: each load where an open neutral hits it hardest");
  if (audit.ranking.empty()) return text + paragraph("No load to rank.");
  // Severities are few and short: to the right, as figures are, they never give way.
  TextTable table({{"#", Align::Right},
                   {"load"},
                   {"outlet"},
                   {"open at"},
                   {"V", Align::Right},
                   {"limit V", Align::Right},
                   {"over", Align::Right},
                   {"severity", Align::Right},
                   {"on", Align::Right},
                   {"with"}});
  bool any_protected = false;
  const std::size_t shown_rows = std::min(audit.ranking.size(), static_cast<std::size_t>(rows));
  for (std::size_t i = 0; i < shown_rows; ++i) {
    const RankRow& row = audit.ranking[i];
    const OpenNeutral& open = audit.open_neutral[static_cast<std::size_t>(row.place)];
    any_protected = any_protected || open.protected_by;
    table.add({std::to_string(i + 1), view.load(row.load).name, view.load(row.load).at,
               open.place.name + (open.protected_by ? " *" : ""), volts_cell(view, row, open),
               shown(row.withstands.si()), fixed(row.over, 2), row.severity,
               std::to_string(row.on.size()), largest_other(view, row)});
  }
  text += table.text();
  if (shown_rows < audit.ranking.size()) {
    text += paragraph(fmt::format("and {} more", audit.ranking.size() - shown_rows));
  }
  return text + explanation(view, any_protected);
}

}  // namespace evenleg
