#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

bool has_earth_return(const House& house) {
  return house.service && house.service->earth_return_ohms;
}

std::string joint_ohms(const AuditView& view, const NeutralRow& row) {
  if (!row.limit) return "-";
  const auto figure_of = [&](const NeutralLimit& limit) {
    const bool certain = limit.proven && view.audit.certified;
    return shown(limit.ohms.si()) + (certain ? "" : " ?");
  };
  if (!row.next_limit) return figure_of(*row.limit);
  return fmt::format("{} ({})", figure_of(*row.limit), figure_of(*row.next_limit));
}

}  // namespace

std::string legs_section(const AuditView& view) {
  std::string text = heading("Legs as found");
  TextTable table(
      {{"leg"}, {"A", Align::Right}, {"V to neutral at the first panel", Align::Right}});
  for (const LegRow& row : view.audit.legs) {
    table.add({row.leg, shown(row.amps.si()), shown(row.volts.si())});
  }
  text += table.text();
  if (view.audit.loads.empty()) return text + paragraph("No load is on.");
  return text + paragraph(fmt::format("{} of {} {} on.", view.audit.loads.size(),
                                      counted(view.house.loads.size(), "load"),
                                      view.audit.loads.size() == 1 ? "is" : "are"));
}

std::string neutrals_section(const AuditView& view, SourceList& sources) {
  std::string text = heading("Neutrals, all of them sound");
  TextTable table({{"neutral"},
                   {"kind"},
                   {"A as found", Align::Right},
                   {"highest A", Align::Right},
                   {"rated A", Align::Right},
                   {"over", Align::Right},
                   {"joint Ω", Align::Right},
                   {"source"},
                   {"on then"}});
  std::string earth;
  for (const NeutralRow& row : view.audit.neutrals) {
    std::string over = "-";
    if (row.highest && row.rated_amps && row.rated_amps->si() > 0) {
      over = fixed(row.highest->value / *row.rated_amps, 2);
    }
    const std::vector<std::string> on =
        row.highest ? load_names(view.house, large_first(view.house, view.tables, row.highest->on))
                    : std::vector<std::string>{};
    table.add({row.place, std::string(name_of(row.kind)), shown(row.amps.si()),
               shown(view, row.highest, Side::Highest), shown(row.rated_amps), over,
               joint_ohms(view, row), row.rated_amps ? sources.mark(row.rated_source) : "",
               fmt::format("{}", fmt::join(on, ", "))});
    if (row.earth_return_amps && has_earth_return(view.house)) {
      earth = fmt::format("Beside the service neutral, {} A come back through the earth return.",
                          shown(row.earth_return_amps));
    }
  }
  if (table.empty()) return text + paragraph("No neutral is shared by more than one leg.");
  text += table.text();
  if (!earth.empty()) text += paragraph(earth);
  return text +
         paragraph(
             "highest A: over the credible states, on then the loads on in that one. over: highest "
             "over rated; above 1.00 the conductor could carry more than it is rated for. joint Ω: "
             "what a joint in that neutral adds where the first load, in its worst credible state, "
             "reaches what it withstands; 0 where one is past it with a sound neutral, behind it "
             "the first of the others; - where none is even with it open. A joint that adds less "
             "is not thereby in order. `evenleg "
             "neutral` shows one neutral in depth.");
}

}  // namespace evenleg
