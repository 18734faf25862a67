#include <algorithm>
#include <numeric>

#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

std::string withstands_text(const LoadKind& kind) {
  constexpr double kPercent = 100;
  if (kind.withstands_volts) return figure(*kind.withstands_volts) + " V";
  return figure(kPercent * kind.withstands) + " % of nameplate";
}

// The kinds that share a figure and its source, and how many loads are of them.
struct Withstood {
  std::string figure;
  std::string source;
  std::vector<std::string> kinds;
  std::size_t loads = 0;
};

void count_in(std::vector<Withstood>& figures, const LoadKind& kind, SourceList& sources) {
  const std::string figure = withstands_text(kind);
  const std::string source = sources.mark(kind.withstands_source);
  auto entry = std::find_if(figures.begin(), figures.end(), [&](const Withstood& known) {
    return known.figure == figure && known.source == source;
  });
  if (entry == figures.end()) entry = figures.insert(figures.end(), {figure, source, {}, 0});
  ++entry->loads;
  if (std::find(entry->kinds.begin(), entry->kinds.end(), kind.name) == entry->kinds.end()) {
    entry->kinds.push_back(kind.name);
  }
}

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
  std::vector<Withstood> figures;
  int stated = 0;
  for (const int index : loads) {
    const Load& load = house.loads[static_cast<std::size_t>(index)];
    const LoadKind* kind = find_kind(tables, load.kind);
    if (load.max_volts) {
      ++stated;
    } else if (kind != nullptr) {
      count_in(figures, *kind, sources);
    }
  }
  std::string text = paragraph("What loads are taken to withstand without end (limit V):");
  for (const Withstood& entry : figures) {
    text += paragraph(fmt::format("{} {}, {}: {}", entry.figure, entry.source,
                                  counted(entry.loads, "load"), fmt::join(entry.kinds, ", ")),
                      4, 4);
  }
  if (stated > 0)
    text += paragraph(fmt::format("its own max_volts, as described: {}", stated), 4, 4);
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
  std::vector<int> all(view.house.loads.size());
  std::iota(all.begin(), all.end(), 0);
  std::string text = heading("Limits and their sources");
  text += withstood_figures(view.house, view.tables, all, sources);
  text += voltage_limits_table(view, sources);
  text += severities(view, sources) + "\n";
  return text + source_entries(sources);
}

}  // namespace evenleg
