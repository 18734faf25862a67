#include "evenleg/network/load_law.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace evenleg {
namespace {

constexpr double kLeastVolts = 1e-6;  // per unit: a secant needs a divisor

// Motor D, per unit on the motor's base; coefficients at source (load-kinds.toml, law_motor_d).
constexpr double kBreakVolts = 0.86;
constexpr double kActiveBelow = 12;
constexpr double kActiveBelowExponent = 3.2;
constexpr double kReactiveAbove = 6;
constexpr double kReactiveBelow = 11;
constexpr double kReactiveBelowExponent = 2.5;

struct Shares {
  double active = 0;    // of P0; motor: of S0
  double reactive = 0;  // of Q0; motor: of S0
};

double fitted(const std::vector<double>& zip, double v) {
  return zip[0] * v * v + zip[1] * v + zip[2];
}

// The usual exponents without the cost of a power.
double raised(double v, double exponent) {
  if (exponent == 0) return 1;
  if (exponent == 1) return v;
  return exponent == 2 ? v * v : std::pow(v, exponent);
}

Shares by_exponents(const LoadLaw& law, double v) {
  if (!law.zip) return {raised(v, law.active_exponent), raised(v, law.reactive_exponent)};
  const double edge = std::clamp(v, law.zip->from, law.zip->to);
  return {fitted(law.zip->active, edge) * raised(v / edge, law.active_exponent),
          fitted(law.zip->reactive, edge) * raised(v / edge, law.reactive_exponent)};
}

// `p`, `q`: nameplate power per unit of its size.
Shares motor_run(double p, double q, double v) {
  const double above = 1 - kBreakVolts;
  const double coefficient = std::clamp(q / (above * above), 0.0, kReactiveAbove);
  const double at_break = q - coefficient * above * above;
  if (v >= kBreakVolts) {
    return {p, at_break + coefficient * (v - kBreakVolts) * (v - kBreakVolts)};
  }
  const double below = kBreakVolts - v;
  return {p + kActiveBelow * std::pow(below, kActiveBelowExponent),
          at_break + kReactiveBelow * std::pow(below, kReactiveBelowExponent)};
}

Complex running(const LoadBehaviour& load, double v) {
  const LoadLaw& law = load.law;
  if (law.conducts_above) {
    if (v < *law.conducts_above) return {};
    return law.conducts_amps * std::pow(v, law.conducts_exponent) / (v * load.nameplate_volts);
  }
  if (load.nominal == Complex{}) return {};
  // Current is held below the point of dropping out, so y goes with 1 / v there.
  const double held = std::max(v, law.off_below.value_or(law.stalls_below.value_or(0)));
  const double scale = 1 / (held * v);
  if (law.motor_run) {
    const double size = std::sqrt(std::norm(load.nominal));
    const Shares s = motor_run(load.nominal.real() / size, -load.nominal.imag() / size, held);
    return size * scale * Complex(s.active, -s.reactive);
  }
  const Shares s = by_exponents(law, held);
  return scale * Complex(s.active * load.nominal.real(), s.reactive * load.nominal.imag());
}

}  // namespace

std::string_view name_of(LoadStatus status) {
  switch (status) {
    case LoadStatus::Running:
      return "running";
    case LoadStatus::LockedOut:
      return "locked out";
    case LoadStatus::Stalled:
      return "stalled";
    case LoadStatus::FailedOpen:
      return "failed open";
  }
  return "";
}

LoadLaw per_unit_of(LoadLaw law, double nameplate_volts) {
  if (!law.limits_in_volts) return law;
  for (std::optional<double>* limit : {&law.off_below, &law.on_above, &law.fails_above}) {
    if (*limit) **limit /= nameplate_volts;
  }
  law.limits_in_volts = false;
  return law;
}

std::vector<LoadBehaviour> load_behaviours(const House& house, const Model& model,
                                           const Tables& tables) {
  std::vector<LoadBehaviour> behaviours;
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadKind* kind = find_kind(tables, house.loads[l].kind);
    assert(kind != nullptr);
    const double nameplate = house.loads[l].volts.value_or(model.loads[l].nominal_volts);
    behaviours.push_back({per_unit_of(kind->law, nameplate), nameplate, model.loads[l].admittance});
    if (house.loads[l].ohms) {  // entered as a resistance: it is one
      behaviours.back().law = {};
    }
  }
  return behaviours;
}

bool is_constant_impedance(const LoadLaw& law) {
  return law.active_exponent == 2 && law.reactive_exponent == 2 && !law.zip && !law.motor_run &&
         !law.off_below && !law.stalls_below && !law.conducts_above && !law.fails_above;
}

Complex secant_admittance(const LoadBehaviour& load, double volts, LoadStatus status) {
  switch (status) {
    case LoadStatus::LockedOut:
    case LoadStatus::FailedOpen:
      return {};
    case LoadStatus::Stalled:
      return std::abs(load.nominal) / load.law.stalled_ohms;
    case LoadStatus::Running:
      break;
  }
  const LoadLaw& law = load.law;
  if (law.active_exponent == 2 && law.reactive_exponent == 2 && !law.zip && !law.motor_run &&
      !law.off_below && !law.conducts_above) {
    return load.nominal;
  }
  return running(load, std::max(kLeastVolts, volts / load.nameplate_volts));
}

bool is_consistent(const LoadBehaviour& load, double volts, LoadStatus status, double slack) {
  const double v = volts / load.nameplate_volts;
  const LoadLaw& law = load.law;
  switch (status) {
    case LoadStatus::Running:
      return v >= law.off_below.value_or(0) - slack && v >= law.stalls_below.value_or(0) - slack;
    case LoadStatus::LockedOut:
      return law.on_above && v <= *law.on_above + slack;
    case LoadStatus::Stalled:
      return law.restarts_above && v <= *law.restarts_above + slack;
    case LoadStatus::FailedOpen:
      return true;
  }
  return false;
}

LoadStatus next_status(const LoadBehaviour& load, double volts, LoadStatus status) {
  if (is_consistent(load, volts, status)) return status;
  if (status != LoadStatus::Running) return LoadStatus::Running;
  return load.law.off_below ? LoadStatus::LockedOut : LoadStatus::Stalled;
}

bool is_conducting(const LoadBehaviour& load, double volts, LoadStatus status) {
  return status == LoadStatus::Running && load.law.conducts_above &&
         volts >= *load.law.conducts_above * load.nameplate_volts;
}

double share_of_failing(const LoadBehaviour& load, double volts, LoadStatus status) {
  if (status == LoadStatus::FailedOpen || !load.law.fails_above) return 0;
  return volts / (*load.law.fails_above * load.nameplate_volts);
}

}  // namespace evenleg
