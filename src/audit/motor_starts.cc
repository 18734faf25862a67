#include "evenleg/audit/motor_starts.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "evenleg/network/solve.h"
#include "evenleg/tables/flicker.h"

namespace evenleg {
namespace {

// A pair of terminals that some load is connected to.
struct Terminal {
  int cable = 0;
  int box = 0;
  int from = 0;
  int to = kNeutral;
  std::string where;
  bool motor_alone = true;
};

std::vector<Terminal> terminals_in_use(const FoundState& found, std::size_t motor) {
  std::vector<Terminal> terminals;
  for (std::size_t l = 0; l < found.model.loads.size(); ++l) {
    const LoadModel& load = found.model.loads[l];
    auto same = std::find_if(terminals.begin(), terminals.end(), [&](const Terminal& t) {
      return t.cable == load.cable && t.box == load.box && t.from == load.from && t.to == load.to;
    });
    if (same == terminals.end()) {
      same = terminals.insert(
          same, {load.cable, load.box, load.from, load.to, found.house.loads[l].at, true});
    }
    if (l != motor) same->motor_alone = false;
  }
  return terminals;
}

Complex volts_at(const Solution& solution, const Terminal& t) {
  const BoxState& box = solution.boxes[at(t.cable)][at(t.box)];
  return box.hot[at(t.from)] - (t.to == kNeutral ? box.neutral : box.hot[at(t.to)]);
}

DipRow dip(std::string where, std::string legs, Complex before, Complex during) {
  DipRow row{std::move(where), std::move(legs), volts(std::abs(before)), volts(std::abs(during))};
  if (row.before.si() > 0) row.percent = kPercent * ((row.before - row.during) / row.before);
  return row;
}

// The state before the start: as found, without the motor and what never runs with it.
std::vector<bool> running_before(const FoundState& found, std::size_t motor) {
  std::vector<bool> on = found.on;
  const auto& group = found.house.loads[motor].noncoincident;
  for (std::size_t l = 0; l < on.size(); ++l) {
    if (l == motor || (group && found.house.loads[l].noncoincident == group)) on[l] = false;
  }
  return on;
}

Complex locked_rotor_admittance(const MotorStart& start) {
  const double reactive = std::sqrt(1 - start.power_factor * start.power_factor);
  return start.locked_rotor.si() / start.nameplate.si() * Complex(start.power_factor, -reactive);
}

class Starter {
 public:
  Starter(const FoundState& found, std::size_t motor, MotorStart& start)
      : found_(found),
        motor_(motor),
        start_(start),
        before_(admittances(found.model, running_before(found, motor))),
        during_(before_),
        terminals_(terminals_in_use(found, motor)),
        lamp_(lamp_for(found.wiring.system.nominal_volts)) {
    during_[motor] = locked_rotor_admittance(start);
    start.seen_from_percent = least_change_for_pst_1(found.tables.flicker, lamp_);
  }

  [[nodiscard]] StartState with(double added_ohms) const {
    const NeutralFault fault{{"service", PlaceKind::Service, 0, -1, -1}, added_ohms};
    const Solution before = solve(found_.model, before_, fault);
    const Solution during = solve(found_.model, during_, fault);
    StartState state;
    state.added_neutral = ohms(added_ohms);
    state.amps = amps(std::abs(during.load_amps[motor_]));
    add_outlets(before, during, state);
    add_legs(before, during, state);
    judge(state);
    return state;
  }

 private:
  void add_outlets(const Solution& before, const Solution& during, StartState& state) const {
    for (std::size_t i = 0; i < terminals_.size(); ++i) {
      const Terminal& t = terminals_[i];
      const Cable& cable = found_.wiring.cables[at(t.cable)];
      DipRow row = dip(t.where, legs_text(found_.wiring, cable, t.from, t.to), volts_at(before, t),
                       volts_at(during, t));
      row.motor_alone = t.motor_alone;
      row.terminals = static_cast<int>(i);
      state.outlets.push_back(std::move(row));
    }
    std::stable_sort(
        state.outlets.begin(), state.outlets.end(),
        [](const DipRow& a, const DipRow& b) { return std::abs(a.percent) > std::abs(b.percent); });
  }

  void add_legs(const Solution& before, const Solution& during, StartState& state) const {
    for (std::size_t p = 0; p < found_.model.panels.size(); ++p) {
      const PanelState& was = before.panels[p];
      const PanelState& is = during.panels[p];
      for (std::size_t i = 0; i < was.hot.size(); ++i) {
        const Leg& leg = found_.wiring.system.legs[at(found_.model.panels[p].legs[i])];
        state.legs.push_back(dip(found_.house.panels[p].name, leg.name + "-N",
                                 was.hot[i] - was.neutral, is.hot[i] - is.neutral));
      }
    }
  }

  void judge(StartState& state) const {
    bool dims = false;
    bool brightens = false;
    for (const DipRow& row : state.outlets) {
      if (row.motor_alone) continue;
      dims = dims || row.percent >= start_.seen_from_percent;
      brightens = brightens || row.percent <= -start_.seen_from_percent;
      state.change_percent = std::max(state.change_percent, std::abs(row.percent));
    }
    if (dims) state.verdict = StartVerdict::DimsOnly;
    if (brightens) state.verdict = StartVerdict::BrightensOnly;
    if (dims && brightens) state.verdict = StartVerdict::DimsAndBrightens;
    for (const ChangeLimit& limit : found_.tables.flicker.change_limits) {
      if (state.change_percent > limit.percent) state.limits_passed.push_back(limit.percent);
    }
    const auto& starts = found_.house.loads[motor_].starts_per_hour;
    if (starts) state.flicker = flicker(state.change_percent, *starts);
  }

  [[nodiscard]] StartFlicker flicker(double change, double starts_per_hour) const {
    StartFlicker flicker;
    const FlickerTables& tables = found_.tables.flicker;
    const double rate = changes_per_minute_of_starts(starts_per_hour);
    flicker.changes_per_minute = rate;
    flicker.change_percent = change;
    flicker.rare = 2 * starts_per_hour < 1;
    flicker.by_table = pst_by_table(tables, lamp_, change, rate);
    if (spaced_for_formula(rate)) {
      flicker.by_formula =
          analytical_pst(change_on_230_volt_lamp(tables, lamp_, change, rate), rate);
    }
    return flicker;
  }

  const FoundState& found_;
  std::size_t motor_;
  MotorStart& start_;
  std::vector<Complex> before_;
  std::vector<Complex> during_;
  std::vector<Terminal> terminals_;
  FlickerLamp lamp_;
};

}  // namespace

std::string_view name_of(StartVerdict verdict) {
  switch (verdict) {
    case StartVerdict::NothingSeen:
      return "no change that would be seen";
    case StartVerdict::DimsOnly:
      return "dims only";
    case StartVerdict::BrightensOnly:
      return "brightens only";
    case StartVerdict::DimsAndBrightens:
      return "dims and brightens";
  }
  return "";
}

std::optional<Amps> locked_rotor_amps(const Load& load, Volts nameplate,
                                      const MotorStarting& starting) {
  if (load.starting_amps) return amps(*load.starting_amps);
  if (!load.code_letter || !load.horsepower) return std::nullopt;
  const CodeLetter* letter = find_code_letter(starting, *load.code_letter);
  if (letter == nullptr) return std::nullopt;
  constexpr double kVoltAmpsPerKva = 1000;
  const double per_horsepower = letter->to.value_or(letter->from);
  return volt_amps(kVoltAmpsPerKva * per_horsepower * *load.horsepower) / nameplate;
}

std::vector<MotorStart> find_motor_starts(const FoundState& found) {
  std::vector<MotorStart> starts;
  const MotorStarting& starting = found.tables.motor_starting;
  for (std::size_t l = 0; l < found.house.loads.size(); ++l) {
    const Load& load = found.house.loads[l];
    MotorStart start;
    start.load = static_cast<int>(l);
    start.nameplate = volts(load.volts.value_or(found.model.loads[l].nominal_volts));
    const auto current = locked_rotor_amps(load, start.nameplate, starting);
    if (!current || load.switching == "always off") continue;
    start.locked_rotor = *current;
    const CodeLetter* letter =
        load.code_letter ? find_code_letter(starting, *load.code_letter) : nullptr;
    start.at_least = letter != nullptr && !letter->to;
    start.power_factor = load.starting_power_factor.value_or(starting.power_factor);
    const Starter starter(found, l, start);
    start.sound = starter.with(0);
    start.degraded = starter.with(found.degraded_ohms);
    starts.push_back(std::move(start));
  }
  return starts;
}

}  // namespace evenleg
