#include <fmt/format.h>

#include <cmath>

#include "evenleg/base/percent.h"
#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/diagnose_sections.h"

namespace evenleg {
namespace {

constexpr double kMilli = 1000;

// Where the values come from and how far they agree.
std::string basis(const DiagnosisView& view) {
  const Estimation& all = view.diagnosis.estimation;
  std::string text;
  if (all.source_volts) {
    text = fmt::format("Source: {} V ± {} V, first leg to neutral with nothing drawing. ",
                       fixed(*all.source_volts, 1), fixed(*all.source_standard_error, 2));
  }
  text += fmt::format("{} used, {}; they stand {} V from the fitted circuit (root mean square). ",
                      counted(static_cast<std::size_t>(all.readings_used), "reading"),
                      counted(static_cast<std::size_t>(all.values_used), "voltage"),
                      fixed(all.residual_volts, 2));
  text +=
      all.accuracy_stated
          ? "± is one standard error: the larger of what the readings' own scatter and what the "
            "meter's stated accuracy allow."
          : "± is one standard error, from the readings' own scatter: the meter's accuracy is "
            "not stated for all of them (keys accuracy_percent and accuracy_volts).";
  return text;
}

std::string way(const SectionEstimate& section) {
  return fmt::format("From {} to {}", section.from.empty() ? "the source" : section.from,
                     section.to);
}

std::string excess_cell(const ConductorEstimate& one) {
  return one.excess_ohms ? fitted_ohms(*one.excess_ohms) : "-";
}

std::string note_cell(const ConductorEstimate& one) {
  if (one.stands_out) {
    return fmt::format("{} % of it is beyond {}", fixed(*one.excess_ohms / one.ohms * kPercent, 0),
                       one.expected_ohms ? "its run" : "the others");
  }
  if (!one.alone()) return "together; not told apart yet";
  return one.expected_ohms ? "" : "no run described";
}

std::string table_of(const SectionEstimate& section) {
  TextTable table({{"Conductor", Align::Left},
                   {"Ω", Align::Right},
                   {"± Ω", Align::Right},
                   {"Run, Ω", Align::Right},
                   {"Transformer, Ω", Align::Right},
                   {"Excess, Ω", Align::Right},
                   {"", Align::Left}});
  for (const ConductorEstimate& one : section.conductors) {
    table.add({one.conductor, fitted_ohms(one.ohms), fitted_ohms(one.standard_error),
               one.expected_ohms ? fitted_ohms(*one.expected_ohms) : "-",
               one.transformer_ohms == 0 ? "-" : fitted_ohms(one.transformer_ohms),
               excess_cell(one), note_cell(one)});
  }
  return table.text();
}

// The section between places read that holds the most of a conductor's excess.
std::string where_most(const DiagnosisView& view) {
  const SectionEstimate* most = nullptr;
  const ConductorEstimate* worst = nullptr;
  int sections = 0;
  for (const SectionEstimate& section : view.diagnosis.estimation.sections) {
    ++sections;
    for (const ConductorEstimate& one : section.conductors) {
      if (!one.stands_out || (worst != nullptr && worst->excess_ohms >= one.excess_ohms)) continue;
      most = &section;
      worst = &one;
    }
  }
  if (most == nullptr || sections < 2) return "";
  return "\n" +
         paragraph(fmt::format("Of the places read, the section from {} to {} holds the most: "
                               "{} Ω in {}.",
                               most->from.empty() ? "the source" : most->from, most->to,
                               fitted_ohms(*worst->excess_ohms), worst->conductor));
}

}  // namespace

std::string missing_readings_text(const Estimation& estimation) {
  std::string text;
  for (const MissingReadings& one : estimation.missing) {
    text += "\n";
    const std::string conductors = listed(one.conductors);
    if (one.take.empty()) {
      text +=
          paragraph(fmt::format("{} up to {}: no volts at the places read would tell {} apart.",
                                conductors, one.place, one.conductors.size() > 1 ? "them" : "it"));
      continue;
    }
    text += paragraph(
        fmt::format("To tell {} up to {}, read all volts and clamp each leg {}. Electronics on "
                    "the other legs go off before a load goes on.",
                    conductors, one.place, listed(one.take)));
  }
  return text;
}

std::string estimates_section(const DiagnosisView& view, SourceList& sources) {
  const Estimation& all = view.diagnosis.estimation;
  if (all.values_used == 0) return "";
  std::string text = heading("What the conductors show") + paragraph(basis(view));
  bool expected = false;
  for (const SectionEstimate& section : all.sections) {
    text += "\n" + paragraph(way(section) + ":") + table_of(section);
    for (const ConductorEstimate& one : section.conductors) {
      expected = expected || one.expected_ohms.has_value();
    }
  }
  if (expected && !view.tables.conductors.empty()) {
    const std::string mark = sources.mark(view.tables.conductors.front().resistance_source);
    text += "\n" +
            paragraph(fmt::format(
                "Run: its measured ohms, or the table's resistance of the described conductor "
                "and length at its working temperature{}; a cool one is up to a fifth lower. "
                "Excess: measured less run and transformer. It stands out where it is more than "
                "four standard errors, half of the run and, what all conductors share taken off, "
                "30 mΩ.",
                mark.empty() ? "" : " " + mark));
  }
  return text + where_most(view) + missing_readings_text(all);
}

}  // namespace evenleg
