#include "evenleg/report/audit_text.h"

#include "evenleg/report/audit_words.h"
#include "evenleg/report/cautions.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr int kRowsUnlessAll = 15;  // of the ranking: what fits on a screen with the summary

AuditView view_of(const House& house, const Tables& tables, const Audit& audit,
                  const AuditTextOptions& options) {
  return {house, tables, audit, options, withstood(house, audit)};
}

}  // namespace

std::string audit_text(const House& house, const Tables& tables, const Audit& audit,
                       const AuditTextOptions& options) {
  const AuditView view = view_of(house, tables, audit, options);
  const int rows = options.all ? static_cast<int>(audit.ranking.size()) : kRowsUnlessAll;
  SourceList sources;
  std::string text = title_line(view) + summary_section(view) + ranking_section(view, rows);
  text += findings_section(view, sources);
  text += legs_section(view);
  text += neutrals_section(view, sources);
  text += harmonics_section(view, sources);
  text += motor_starts_section(view, sources);
  text += places_section(view);
  text += behaviour_section(view, sources);
  text += limits_section(view, sources);
  return text + cautions_section();
}

std::string audit_head(const House& house, const Tables& tables, const Audit& audit, int rows) {
  const AuditView view = view_of(house, tables, audit, {});
  return title_line(view) + summary_section(view) + ranking_section(view, rows);
}

}  // namespace evenleg
