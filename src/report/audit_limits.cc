#include "evenleg/base/text_table.h"
#include "evenleg/report/kind_limits.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

std::optional<double> nominal_volts_of(const AuditView& view) {
  for (const SupplySystem& system : view.tables.systems) {
    if (system.name == view.house.supply.system) return system.nominal_volts;
  }
  return std::nullopt;
}

std::string voltage_limits_table(const AuditView& view, SourceList& sources) {
  TextTable table({{"from", Align::Right},
                   {"to", Align::Right},
                   {"supply voltage limits, V to neutral"},
                   {"where"},
                   {"see"}});
  const std::optional<double> nominal = nominal_volts_of(view);
  for (const VoltageLimits& limits : view.tables.voltage_limits) {
    if (limits.base_volts != nominal) continue;
    table.add({figure(limits.least_volts), figure(limits.most_volts), limits.name,
               limits.jurisdiction, sources.mark(limits.source)});
  }
  if (!table.empty()) return "\n" + table.text();
  return paragraph(fmt::format("The tables hold no supply voltage limits for {} V to neutral.",
                               figure(nominal)));
}

std::string severities(const AuditView& view, SourceList& sources) {
  std::string text =
      "\n" + paragraph("Severity by \"over\" " + sources.mark(view.tables.severities_source));
  for (const Severity& severity : view.tables.severities) {
    text += paragraph(fmt::format("from {}: {}. {}", fixed(severity.from_over, 2), severity.name,
                                  severity.meaning),
                      4, 4);
  }
  return text;
}

}  // namespace

std::string withstood_figures(const House& house, const Tables& tables,
                              const std::vector<int>& loads, SourceList& sources) {
  std::string text = paragraph("What loads are taken to withstand without end (limit V):");
  for (const KindLimit& entry : kind_limits(house, tables, loads, sources)) {
    text += paragraph(fmt::format("{} {}, {}: {}", entry.figure, entry.source,
                                  counted(entry.loads, "load"), fmt::join(entry.kinds, ", ")),
                      4, 4);
  }
  if (const std::size_t stated = with_own_limit(house, loads); stated > 0) {
    text += paragraph(fmt::format("its own max_volts, as described: {}", stated), 4, 4);
  }
  return text;
}

std::string source_entries(const SourceList& sources) {
  std::string text;
  int number = 0;
  for (const std::string& source : sources.entries()) {
    text += paragraph(fmt::format("[{}] {}", ++number, source), 2, 4);
  }
  return text;
}

std::string limits_section(const AuditView& view, SourceList& sources) {
  std::string text = heading("Limits and their sources");
  text += withstood_figures(view.house, view.tables, every_load(view.house), sources);
  text += voltage_limits_table(view, sources);
  text += severities(view, sources) + "\n";
  return text + source_entries(sources);
}

}  // namespace evenleg
