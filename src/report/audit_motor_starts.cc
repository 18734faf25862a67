#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr int kRowsUnlessAll = 6;
constexpr std::size_t kMotorsUnlessAll = 3;  // that have a table of their own

// A change in percent: two decimals tell a dip of a hundredth from none.
std::string percent(double value) { return fixed(value, 2); }

// The deepest fall, or highest rise with `sign` -1, where something else than the motor is
// connected.
std::string extreme_text(const StartState& state, int sign, double seen_from) {
  const DipRow* found = nullptr;
  for (const DipRow& row : state.outlets) {
    if (row.motor_alone || sign * row.percent < seen_from) continue;
    if (found == nullptr || sign * row.percent > sign * found->percent) found = &row;
  }
  return found != nullptr ? percent(sign * found->percent) : "-";
}

std::string pst_text(const std::optional<double>& pst) { return pst ? fixed(*pst, 2) : "-"; }

void add_state(const MotorStart& start, const StartState& state, std::string motor,
               std::string neutral, TextTable& table) {
  const bool judged = state.flicker && !state.flicker->rare;
  std::string amps = (start.at_least ? "≥ " : "") + shown(state.amps.si());
  table.add({std::move(motor), std::move(amps), std::move(neutral),
             extreme_text(state, 1, start.seen_from_percent),
             extreme_text(state, -1, start.seen_from_percent),
             judged ? pst_text(state.flicker->by_table) : "-",
             judged ? pst_text(state.flicker->by_formula) : "-",
             std::string(name_of(state.verdict))});
}

std::string overview(const AuditView& view) {
  TextTable table({{"motor"},
                   {"starting A", Align::Right},
                   {"service neutral"},
                   {"falls %", Align::Right},
                   {"rises %", Align::Right},
                   {"Pst", Align::Right},
                   {"formula", Align::Right},
                   {"other outlets"}});
  for (const MotorStart& start : view.audit.motor_starts) {
    add_state(start, start.sound, view.load(start.load).name, "as described", table);
    add_state(start, start.degraded, "",
              fmt::format("{} Ω added", figure(start.degraded.added_neutral.si())), table);
  }
  return table.text();
}

// Each outlet in both states; the order is that of the degraded neutral.
std::string outlets_table(const AuditView& view, const MotorStart& start) {
  TextTable table({{"outlet"},
                   {"between"},
                   {"V before", Align::Right},
                   {"V during", Align::Right},
                   {"falls %", Align::Right},
                   {"degraded: V before", Align::Right},
                   {"V during", Align::Right},
                   {"falls %", Align::Right}});
  int rows = 0;
  int left = 0;
  for (const DipRow& worse : start.degraded.outlets) {
    const auto sound =
        std::find_if(start.sound.outlets.begin(), start.sound.outlets.end(),
                     [&](const DipRow& row) { return row.terminals == worse.terminals; });
    if (!view.options.all && rows >= kRowsUnlessAll) {
      ++left;
      continue;
    }
    ++rows;
    table.add({worse.where + (worse.motor_alone ? " (own)" : ""), worse.legs,
               shown(sound->before.si()), shown(sound->during.si()), percent(sound->percent),
               shown(worse.before.si()), shown(worse.during.si()), percent(worse.percent)});
  }
  std::string text = table.text();
  if (left > 0)
    text += paragraph(fmt::format("and {} more, with no larger change; --all shows them.", left));
  return text;
}

std::string legs_text(const std::vector<DipRow>& legs) {
  std::string text;
  for (const DipRow& row : legs) {
    text += fmt::format("{}{} {} {} %", text.empty() ? "" : ", ", in_quotes(row.where), row.legs,
                        percent(row.percent));
  }
  return text;
}

std::string change_limits_text(const AuditView& view, SourceList& sources) {
  const FlickerTables& flicker = view.tables.flicker;
  std::vector<std::string> limits;
  for (const ChangeLimit& limit : flicker.change_limits) {
    limits.push_back(fmt::format("{} % {}", exact(limit.percent), limit.applies));
  }
  std::string text = "Largest change, d_max " + sources.mark(flicker.change_limits_source) + ": ";
  for (std::size_t i = 0; i < limits.size(); ++i) text += (i > 0 ? "; " : "") + limits[i];
  return text + ". " + flicker.change_limits_scope;
}

bool any_judged(const AuditView& view) {
  return std::any_of(view.audit.motor_starts.begin(), view.audit.motor_starts.end(),
                     [](const MotorStart& start) { return start.sound.flicker.has_value(); });
}

bool any_motor(const AuditView& view, bool (*holds)(const Load&)) {
  return std::any_of(view.audit.motor_starts.begin(), view.audit.motor_starts.end(),
                     [&](const MotorStart& start) { return holds(view.load(start.load)); });
}

// What the figures rest on where the description does not say it.
std::string basis(const AuditView& view, SourceList& sources) {
  const MotorStarting& starting = view.tables.motor_starting;
  // One after the other, so that the sources are numbered in this order.
  std::string text;
  if (any_motor(view, [](const Load& load) { return !load.starting_amps; })) {
    text += "Locked rotor by code letter " + sources.mark(starting.code_letter_source) + ". ";
  }
  if (any_motor(view, [](const Load& load) { return !load.starting_power_factor; })) {
    text +=
        "Power factor where none is stated " + sources.mark(starting.power_factor_source) + ". ";
  }
  return text + "Degraded neutral " + sources.mark(starting.degraded_source) + ".";
}

std::string notes(const AuditView& view, SourceList& sources) {
  const MotorStart& first = view.audit.motor_starts.front();
  std::string text = paragraph(fmt::format(
      "falls, rises: the largest change in percent of the volts before, where something else than "
      "the motor is connected (own: nothing else is); below {} % it counts as not seen, since it "
      "gives Pst = 1 at no rate {}. A rise, with or without a fall elsewhere (\"dims and "
      "brightens\", \"brightens only\"), is consistent with resistance in a neutral that both legs "
      "use; a good one has a little, so that the size counts.",
      figure(first.seen_from_percent), sources.mark(view.tables.flicker.points_source)));
  text += paragraph(basis(view, sources));
  if (any_judged(view)) {
    text += paragraph(
        "Pst: short-term severity of flicker, which IEC 61000-3-3 limits to 1 for equipment; by "
        "the table of rectangular changes, and by that standard's formula (from memory). Each "
        "start counts as two changes at even spacing, and the ten minutes with a start have both. "
        "A motor that is up to speed within 1 s puts them closer than the formula allows.");
  }
  return text + paragraph(change_limits_text(view, sources));
}

// Those that change the most with a degraded neutral, in the order of the house.
std::vector<const MotorStart*> motors_in_full(const AuditView& view) {
  std::vector<const MotorStart*> motors;
  for (const MotorStart& start : view.audit.motor_starts) motors.push_back(&start);
  if (view.options.all || motors.size() <= kMotorsUnlessAll) return motors;
  std::stable_sort(motors.begin(), motors.end(), [](const MotorStart* a, const MotorStart* b) {
    return a->degraded.change_percent > b->degraded.change_percent;
  });
  motors.resize(kMotorsUnlessAll);
  std::sort(motors.begin(), motors.end());  // pointers into one vector: the house's order
  return motors;
}

std::string motor_in_full(const AuditView& view, const MotorStart& start) {
  std::string text =
      "\n" +
      paragraph(fmt::format(
          "When {} starts ({} A at {} V, power factor {}):", in_quotes(view.load(start.load).name),
          shown(start.locked_rotor.si()), shown(start.nameplate.si()), figure(start.power_factor)));
  text += outlets_table(view, start);
  return text + paragraph(fmt::format("Falls at the panels: {}; degraded: {}.",
                                      legs_text(start.sound.legs), legs_text(start.degraded.legs)));
}

}  // namespace

std::string motor_starts_section(const AuditView& view, SourceList& sources) {
  if (view.audit.motor_starts.empty()) return "";
  std::string text = heading("Motor starts: what the other outlets see");
  text += overview(view);
  const std::vector<const MotorStart*> motors = motors_in_full(view);
  for (const MotorStart* start : motors) text += motor_in_full(view, *start);
  if (motors.size() < view.audit.motor_starts.size()) {
    text += "\n" + paragraph("The motors that change the most stand above; --all shows each.");
  }
  return text + "\n" + notes(view, sources);
}

}  // namespace evenleg
