#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

Cell severity_of(const StartState& state) {
  constexpr int kDecimals = 2;
  const bool known = state.flicker && state.flicker->by_formula;
  return known ? with_decimals(*state.flicker->by_formula, kDecimals) : Cell{};
}

}  // namespace

// What complaints of flicker are held against: each motor's start, the service neutral sound and
// bad.
Section motor_starts_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"motor-starts", "What a motor's start does to lights", {}, false};
  if (job.audit.motor_starts.empty()) {
    if (!fill.options.sections.empty()) {
      section.blocks.emplace_back(Paragraph{"No load is described with starting data."});
    }
    return section;
  }
  Sheet sheet{"Motor starts",
              "Largest change of volts at an outlet, and what is then seen",
              {{"motor", "", false},
               {"locked rotor", "A", true},
               {"change, neutral sound", "%", true},
               {"Pst", "", true},
               {"seen", "", false},
               {"change, neutral bad", "%", true},
               {"Pst then", "", true},
               {"seen then", "", false}},
              {},
              {},
              0};
  constexpr int kTenths = 1;
  for (const MotorStart& start : job.audit.motor_starts) {
    sheet.rows.push_back({fill.load(start.load).name, number(start.locked_rotor.si()),
                          with_decimals(start.sound.change_percent, kTenths),
                          severity_of(start.sound), std::string(name_of(start.sound.verdict)),
                          with_decimals(start.degraded.change_percent, kTenths),
                          severity_of(start.degraded),
                          std::string(name_of(start.degraded.verdict))});
  }
  const bool measured = measured_neutral_excess(job.house, job.diagnosis).has_value();
  sheet.notes.push_back(fmt::format(
      "neutral bad: {} ohms added in the service neutral, {}. Pst: short-term severity of flicker "
      "by "
      "the analytical method of IEC 61000-3-3, whose limit of 1 is for equipment on 220 to 250 V; "
      "no limit of the IEC exists for 120 V{}.",
      fitted_ohms(job.audit.motor_starts.front().degraded.added_neutral.si()),
      measured ? "what the readings give beyond its run"
               : "to stand for a bad one" +
                     marked(fill.sources, job.tables.motor_starting.degraded_source),
      marked(fill.sources, job.tables.flicker.points_source)));
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

}  // namespace evenleg
