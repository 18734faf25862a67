#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"
#include "src/report/diagnose_sections.h"

namespace evenleg {
namespace {

// The place of an audit at which this section's neutral would open; "" where it has none.
std::string place_of(const DiagnosisView& view, const SectionEstimate& section) {
  if (section.kind == SectionKind::Service && section.to == view.house.panels.front().name) {
    return "service";
  }
  if (section.kind == SectionKind::Feeder) return section.to;
  return section.multiwire ? section.cable : "";
}

// The loads beyond that neutral that could go past what they withstand, and the furthest of them.
void count_past(const DiagnosisView& view, JointHeat& heat) {
  const auto limits = withstood(view.house, *view.audit);
  double furthest = 1;
  for (const OpenNeutral& open : view.audit->open_neutral) {
    if (open.place.name != heat.place) continue;
    for (const LoadExtremes& row : open.loads) {
      const auto limit = limits[static_cast<std::size_t>(row.load)];
      if (!limit || !row.highest || row.highest->value.si() <= *limit) continue;
      ++heat.loads_past;
      const double over = row.highest->value.si() / *limit;
      if (over <= furthest) continue;
      furthest = over;
      heat.worst = fmt::format("{} at up to {} V, which withstands {} V",
                               in_quotes(view.house.loads[static_cast<std::size_t>(row.load)].name),
                               figure(row.highest->value.si()), figure(*limit));
    }
  }
}

}  // namespace

std::vector<JointHeat> joint_heats(const DiagnosisView& view) {
  std::vector<JointHeat> heats;
  if (view.audit == nullptr) return heats;
  for (const SectionEstimate& section : view.diagnosis.estimation.sections) {
    const ConductorEstimate* neutral = section.find("N");
    if (neutral == nullptr || !neutral->stands_out) continue;
    const std::string place = place_of(view, section);
    const auto& rows = view.audit->neutrals;
    const auto row = std::find_if(rows.begin(), rows.end(),
                                  [&](const NeutralRow& one) { return one.place == place; });
    if (row == rows.end() || !row->highest) continue;
    JointHeat heat{place, *neutral->excess_ohms, row->highest->value.si(), 0, false, 0, ""};
    heat.watts = heat.ohms * heat.amps * heat.amps;
    heat.proven = row->highest->proven && view.audit->certified;
    count_past(view, heat);
    heats.push_back(heat);
  }
  return heats;
}

std::string consequence_section(const DiagnosisView& view) {
  std::string text;
  for (const JointHeat& heat : joint_heats(view)) {
    if (text.empty()) text = heading("If that resistance sits in one joint");
    std::string line = fmt::format(
        "{}: {} Ω of excess at the neutral's highest current, {} A{}: {} W of heat in the joint.",
        heat.place == "service" ? "Service neutral" : "Neutral of " + heat.place, fitted_ohms(heat.ohms),
        figure(heat.amps), heat.proven ? "" : " (found, not proven)", figure(heat.watts));
    line += heat.loads_past == 0
                ? " If it opened, no load is found past what it withstands."
                : fmt::format(
                      " If it opened, {} could go past what {} withstand; furthest {}. `evenleg "
                      "audit` has the whole ranking.",
                      counted(static_cast<std::size_t>(heat.loads_past), "load"),
                      heat.loads_past == 1 ? "it is taken to" : "they are taken to", heat.worst);
    text += paragraph(line, 2, 2);
  }
  return text;
}

std::string starts_section(const DiagnosisView& view) {
  const auto excess = measured_neutral_excess(view.house, view.diagnosis);
  if (view.audit == nullptr || view.audit->motor_starts.empty() || !excess) return "";
  TextTable table({{"Motor", Align::Left},
                   {"Change as described, %", Align::Right},
                   {"Pst", Align::Right},
                   {"With the excess, %", Align::Right},
                   {"Pst", Align::Right},
                   {"Seen then", Align::Left}});
  const auto pst = [](const StartState& state) {
    return state.flicker && state.flicker->by_formula ? fixed(*state.flicker->by_formula, 2)
                                                      : std::string("-");
  };
  for (const MotorStart& start : view.audit->motor_starts) {
    table.add({view.house.loads[static_cast<std::size_t>(start.load)].name,
               fixed(start.sound.change_percent, 1), pst(start.sound),
               fixed(start.degraded.change_percent, 1), pst(start.degraded),
               std::string(name_of(start.degraded.verdict))});
  }
  return heading("Motor starts, predicted with that neutral") + table.text() + "\n" +
         paragraph(
             "Pst by the analytical method of IEC 61000-3-3, the change taken to a 230 V lamp "
             "where the supply is of 120 V. Its limit, Pst 1, is for equipment on 220 to "
             "250 V; no limit of the IEC exists for 120 V. `evenleg audit` shows each start.");
}

}  // namespace evenleg
