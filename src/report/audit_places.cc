#include <algorithm>
#include <utility>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr std::size_t kPlacesUnlessAll = 3;  // in full; the others a line each

// A load's highest volts over what it withstands; -1 where either is unknown, so that it sorts
// last.
double over_of(const AuditView& view, const LoadExtremes& row) {
  const std::optional<double> limit = view.limit(row.load);
  return row.highest && limit && *limit > 0 ? row.highest->value.si() / *limit : -1;
}

// Nothing when no load beyond the break can be on.
const LoadExtremes* worst_of(const AuditView& view, const OpenNeutral& open) {
  const auto worst = std::max_element(open.loads.begin(), open.loads.end(),
                                      [&](const LoadExtremes& a, const LoadExtremes& b) {
                                        return over_of(view, a) < over_of(view, b);
                                      });
  return worst == open.loads.end() || !worst->highest ? nullptr : &*worst;
}

// Most loads past their limit first, otherwise from the service outwards.
std::vector<const OpenNeutral*> worst_first(const AuditView& view) {
  std::vector<std::pair<std::size_t, const OpenNeutral*>> places;
  for (const OpenNeutral& open : view.audit.open_neutral) {
    places.emplace_back(past_at(view.house, view.audit, open).size(), &open);
  }
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<const OpenNeutral*> sorted;
  for (const auto& [past, open] : places) sorted.push_back(open);
  return sorted;
}

std::string loads_table(const AuditView& view, const OpenNeutral& open) {
  std::vector<const LoadExtremes*> rows;
  for (const LoadExtremes& row : open.loads) rows.push_back(&row);
  std::stable_sort(rows.begin(), rows.end(), [&](const LoadExtremes* a, const LoadExtremes* b) {
    return over_of(view, *a) > over_of(view, *b);
  });
  TextTable table({{"load"},
                   {"outlet"},
                   {"as found V", Align::Right},
                   {"lowest V", Align::Right},
                   {"highest V", Align::Right},
                   {"limit V", Align::Right}});
  for (const LoadExtremes* row : rows) {
    table.add({view.load(row->load).name, view.load(row->load).at, shown(row->as_found),
               shown(view, row->lowest, Side::Lowest), shown(view, row->highest, Side::Highest),
               figure(view.limit(row->load))});
  }
  return table.empty() ? paragraph("No load hangs on the neutral beyond it.") : table.text();
}

std::string outlets_table(const AuditView& view, const OpenNeutral& open) {
  TextTable table({{"outlet with no load"},
                   {"between"},
                   {"lowest V", Align::Right},
                   {"highest V", Align::Right}});
  for (const OutletExtremes& row : open.outlets) {
    table.add({view.house.outlets[static_cast<std::size_t>(row.outlet)].name, row.legs,
               shown(view, row.lowest, Side::Lowest), shown(view, row.highest, Side::Highest)});
  }
  return table.empty() ? "" : "\n" + table.text();
}

std::string place_in_full(const AuditView& view, const OpenNeutral& open) {
  std::string text = heading("If " + neutral_at(open.place) + " opens");
  if (std::isfinite(open.neutral_shift.si())) {
    text +=
        paragraph(fmt::format("As found, the neutral beyond the break would stand {} V off the "
                              "source's neutral: what metal bonded to it could show to earth.",
                              shown(open.neutral_shift.si())));
  }
  if (open.protected_by) {
    text += paragraph("The neutral-loss device of " + in_quotes(*open.protected_by) +
                      " would open first; the figures are what it would have to prevent.");
  }
  return text + loads_table(view, open) + outlets_table(view, open);
}

std::string places_in_a_line(const AuditView& view, const std::vector<const OpenNeutral*>& places) {
  TextTable table({{"neutral open at"},
                   {"kind"},
                   {"loads", Align::Right},
                   {"past", Align::Right},
                   {"worst load"},
                   {"highest V", Align::Right},
                   {"limit V", Align::Right},
                   {"shift V", Align::Right}});
  for (const OpenNeutral* open : places) {
    const LoadExtremes* worst = worst_of(view, *open);
    table.add({open->place.name + (open->protected_by ? " *" : ""),
               std::string(name_of(open->place.kind)), std::to_string(open->loads.size()),
               std::to_string(past_at(view.house, view.audit, *open).size()),
               worst == nullptr ? "-" : view.load(worst->load).name,
               worst == nullptr ? "-" : shown(view, worst->highest, Side::Highest),
               worst == nullptr ? "-" : figure(view.limit(worst->load)),
               shown(open->neutral_shift.si())});
  }
  return heading("The other places where a neutral can open (in full with --all)") + table.text() +
         paragraph(
             "loads: beyond the break. past: those that could be past their limit. shift V: as "
             "found, from the neutral beyond the break to the source's neutral. * A neutral-loss "
             "device would open first.");
}

}  // namespace

std::string places_section(const AuditView& view) {
  std::string text;
  std::vector<std::string> tables;
  std::vector<const OpenNeutral*> others;
  for (const OpenNeutral* open : worst_first(view)) {
    // Breaks in one length after another often show the same loads the same volts.
    const std::string table = loads_table(view, *open);
    const bool seen = std::find(tables.begin(), tables.end(), table) != tables.end();
    if (!view.options.all && (seen || tables.size() == kPlacesUnlessAll)) {
      others.push_back(open);
      continue;
    }
    tables.push_back(table);
    text += place_in_full(view, *open);
  }
  if (!tables.empty()) {
    text += paragraph(
        "as found V: with the loads that are on as found; - for a load that is off. lowest and "
        "highest V: over the credible states in which the load is on; - where there is none.");
  }
  return others.empty() ? text : text + places_in_a_line(view, others);
}

}  // namespace evenleg
