#include "evenleg/network/model.h"

#include <cassert>
#include <cmath>

#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/network/calibrate.h"

namespace evenleg {
namespace {

constexpr double kMetresPerFoot = 0.3048;  // exact, international foot
constexpr double kHalfTurnDegrees = 180;
constexpr double kVoltAmpsPerKva = 1000;

// Split of a split-phase transformer's R and X between the common part and each half (model.h).
constexpr double kCommonResistance = 0.5;
constexpr double kCommonReactance = 0.8;
constexpr double kHalfReactance = 0.4;

Complex along(const Conductor& conductor, double metres) {
  return {conductor.ohms_per_metre * metres, conductor.reactance_ohms_per_metre * metres};
}

// Nameplate volt-amperes S = P + jQ, lagging positive.
Complex nameplate_power(const Load& load, double volts, double power_factor) {
  const double volt_amps = nameplate_volt_amps(load, power_factor, volts);
  if (load.ohms) return volt_amps;
  const double reactive = std::sqrt(std::max(0.0, 1 - power_factor * power_factor));
  return volt_amps * Complex(power_factor, load.leading ? -reactive : reactive);
}

LoadModel load_model(const Load& load, const WiredLoad& wired, const Wiring& wiring,
                     const Tables& tables) {
  const Cable& cable = wiring.cables[at(wired.cable)];
  const int from_leg = cable.hots[at(wired.from)].leg;
  const int to_leg = wired.to == kNeutral ? kNeutral : cable.hots[at(wired.to)].leg;
  LoadModel model{wired.cable, wired.box, wired.from, wired.to};
  model.on = load.on;
  model.nominal_volts = nominal_volts(wiring.system, from_leg, to_leg);
  const double volts = load.volts.value_or(model.nominal_volts);
  const LoadKind* kind = find_kind(tables, load.kind);
  assert(kind != nullptr);
  const Complex power =
      nameplate_power(load, volts, load.power_factor.value_or(kind->power_factor));
  model.nominal_volt_amps = std::abs(power);
  model.admittance = std::conj(power) / (volts * volts);
  return model;
}

std::vector<Complex> source_volts(const Supply& supply, const SupplySystem& system) {
  std::vector<Complex> source;
  for (std::size_t leg = 0; leg < system.legs.size(); ++leg) {
    double magnitude = system.nominal_volts;
    if (supply.volts.size() == 1) magnitude = supply.volts.front();
    if (supply.volts.size() > 1) magnitude = supply.volts[leg];
    const double angle = system.legs[leg].angle_degrees * std::acos(-1.0) / kHalfTurnDegrees;
    source.push_back(std::polar(magnitude, angle));
  }
  return source;
}

CableModel cable_model(const Cable& cable, const Tables& tables) {
  CableModel model{cable.hots, cable.neutral_panel, {}, {}};
  for (const Box& box : cable.boxes) {
    model.boxes.push_back({box.upstream, box.hots, impedance_of(box.run, tables), {}});
  }
  return model;
}

}  // namespace

RunImpedance impedance_of(const Run& run, const Tables& tables) {
  RunImpedance impedance;
  const double metres = run.length_m.value_or(run.length_ft.value_or(0) * kMetresPerFoot);
  if (run.conductor) {
    const Conductor* hot = find_conductor(tables, *run.conductor);
    const Conductor* neutral = run.neutral ? find_conductor(tables, *run.neutral) : hot;
    assert(hot != nullptr && neutral != nullptr);
    impedance = {along(*hot, metres), along(*neutral, metres)};
  }
  if (run.hot_ohms) impedance = {*run.hot_ohms, *run.hot_ohms};
  if (run.neutral_ohms) impedance.neutral = *run.neutral_ohms;
  return impedance;
}

Matrix source_impedance_of(const Supply& supply, const SupplySystem& system) {
  const auto legs = static_cast<Eigen::Index>(system.legs.size());
  Matrix z = Matrix::Zero(legs, legs);
  if (!supply.transformer || !supply.transformer->kva) return z;
  const double r = supply.transformer->resistance_percent.value_or(0) / kPercent;
  const double x = supply.transformer->reactance_percent.value_or(0) / kPercent;
  const double phases = 3;
  const double rating = *supply.transformer->kva * kVoltAmpsPerKva;
  const double base = system.nominal_volts * system.nominal_volts /
                      (system.split_phase ? rating : rating / phases);
  if (!system.split_phase) {
    z.diagonal().setConstant(base * Complex(r, x));
    return z;
  }
  const Complex common = base * Complex(kCommonResistance * r, kCommonReactance * x);
  const Complex half = base * Complex(r, kHalfReactance * x);
  z << half + common, -common, -common, half + common;
  return z;
}

Model build_model(const House& house, const Wiring& wiring, const Tables& tables) {
  Model model;
  model.source = source_volts(house.supply, wiring.system);
  model.source_impedance = source_impedance_of(house.supply, wiring.system);
  if (house.service) model.earth_return_ohms = house.service->earth_return_ohms;
  for (std::size_t p = 0; p < house.panels.size(); ++p) {
    const Run none;
    const Run& run = p > 0 ? house.panels[p].run : (house.service ? house.service->run : none);
    model.panels.push_back(
        {wiring.panels[p].fed_from, wiring.panels[p].legs, impedance_of(run, tables)});
  }
  for (const Cable& cable : wiring.cables) model.cables.push_back(cable_model(cable, tables));
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const WiredLoad& wired = wiring.loads[l];
    model.loads.push_back(load_model(house.loads[l], wired, wiring, tables));
    CableModel& cable = model.cables[at(wired.cable)];
    cable.loads.push_back(static_cast<int>(l));
    cable.boxes[at(wired.box)].loads.push_back(static_cast<int>(l));
  }
  calibrate_measured(house, model);
  return model;
}

std::vector<Complex> admittances(const Model& model, const std::vector<bool>& on) {
  std::vector<Complex> y(model.loads.size());
  for (std::size_t l = 0; l < y.size(); ++l) {
    if (on[l]) y[l] = model.loads[l].admittance;
  }
  return y;
}

std::vector<bool> on_as_found(const Model& model) {
  std::vector<bool> on;
  for (const LoadModel& load : model.loads) on.push_back(load.on);
  return on;
}

}  // namespace evenleg
