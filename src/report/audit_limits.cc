#include <algorithm>

#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

std::string withstands_text(const LoadKind& kind) {
  constexpr double kPercent = 100;
  if (kind.withstands_volts) return figure(*kind.withstands_volts) + " V";
  return figure(kPercent * kind.withstands) + " % of nameplate";
}

struct KindUse {
  const LoadKind* kind = nullptr;
  int loads = 0;
};

// The kinds whose figure is used, in the order of the loads, and how many loads state their own.
std::vector<KindUse> kinds_used(const AuditView& view, int& stated) {
  std::vector<KindUse> uses;
  for (const Load& load : view.house.loads) {
    if (load.max_volts) {
      ++stated;
      continue;
    }
    const LoadKind* kind = find_kind(view.tables, load.kind);
    if (kind == nullptr) continue;
    auto use = std::find_if(uses.begin(), uses.end(),
                            [&](const KindUse& known) { return known.kind == kind; });
    if (use == uses.end()) use = uses.insert(uses.end(), {kind, 0});
    ++use->loads;
  }
  return uses;
}

std::string kinds_table(const AuditView& view, SourceList& sources) {
  TextTable table({{"kind of load"}, {"loads", Align::Right}, {"taken to withstand"}, {"source"}});
  int stated = 0;
  for (const KindUse& use : kinds_used(view, stated)) {
    table.add({use.kind->name, std::to_string(use.loads), withstands_text(*use.kind),
               sources.mark(use.kind->withstands_source)});
  }
  if (stated > 0) table.add({"(its own max_volts)", std::to_string(stated), "as described", ""});
  return table.empty() ? "" : table.text();
}

std::optional<double> nominal_volts_of(const AuditView& view) {
  for (const SupplySystem& system : view.tables.systems) {
    if (system.name == view.house.supply.system) return system.nominal_volts;
  }
  return std::nullopt;
}

std::string voltage_limits_table(const AuditView& view, SourceList& sources) {
  TextTable table({{"from V", Align::Right},
                   {"to V", Align::Right},
                   {"supply voltage limits"},
                   {"where"},
                   {"source"}});
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

std::string limits_section(const AuditView& view, SourceList& sources) {
  std::string text = heading("Limits and their sources");
  text += kinds_table(view, sources);
  text += voltage_limits_table(view, sources);
  text += severities(view, sources) + "\n";
  int number = 0;
  for (const std::string& source : sources.entries()) {
    text += paragraph(fmt::format("[{}] {}", ++number, source), 2, 4);
  }
  return text;
}

}  // namespace evenleg
