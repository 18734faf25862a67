// What a load draws at any volts, by the law of its kind (tables.h, LoadLaw).
//
// With v the volts over the nameplate's, P0 + jQ0 the nameplate power and S0 its size, the secant
// admittance is y = (P - jQ) / V², siemens:
//   exponents   P = P0 v^active, Q = Q0 v^reactive;
//   fit         P = P0 (z v² + i v + p), likewise Q, within its range; beyond it the exponents,
//               from the value at the edge, so that nothing jumps;
//   motor run   v >= 0.86: P = P0, Q = Q0' + kq (v - 0.86)² S0, kq = 6 or what Q0 leaves, so that
//               Q(1) = Q0;
//               v < 0.86: P = P0 + 12 (0.86 - v)^3.2 S0, Q = Q0' + 11 (0.86 - v)^2.5 S0
//               (single-phase motor D grid model; the coefficients' source is in load-kinds.toml);
//   varistor    open below, then I = amps v^exponent in phase, whatever its nameplate.
// A load that runs below the volts where it would drop out or stall keeps the current of that
// point. Locked out and failed open: no current. Stalled: S0 / V0² over the stalled impedance per
// unit.
#pragma once

#include <string_view>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/network/model.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

enum class LoadStatus { Running, LockedOut, Stalled, FailedOpen };
[[nodiscard]] std::string_view name_of(LoadStatus status);

struct LoadBehaviour {
  LoadLaw law;  // all of it per unit, see per_unit_of()
  double nameplate_volts = 0;
  Complex nominal{};  // siemens: what the load is in the reference
};

// The law for a load of that nameplate, limits that its table gives in volts turned into per unit.
[[nodiscard]] LoadLaw per_unit_of(LoadLaw law, double nameplate_volts);

// Of each load of the house.
[[nodiscard]] std::vector<LoadBehaviour> load_behaviours(const House& house, const Model& model,
                                                         const Tables& tables);

// Neither law nor limits part it from a constant impedance.
[[nodiscard]] bool is_constant_impedance(const LoadLaw& law);

// Siemens at `volts` across it.
[[nodiscard]] Complex secant_admittance(const LoadBehaviour& load, double volts, LoadStatus status);

// Whether a load of that status can stay so at `volts`: a running one neither drops out nor stalls,
// a locked-out one does not return, a stalled one does not restart. At a threshold both can be.
// `slack`, per unit, widens it.
[[nodiscard]] bool is_consistent(const LoadBehaviour& load, double volts, LoadStatus status,
                                 double slack = 0);

// What a load turns into at `volts`; a failed one stays failed.
[[nodiscard]] LoadStatus next_status(const LoadBehaviour& load, double volts, LoadStatus status);

// A varistor past the volts where it conducts.
[[nodiscard]] bool is_conducting(const LoadBehaviour& load, double volts, LoadStatus status);

// Volts over those at which it fails; 0 where it has no such limit or has failed.
[[nodiscard]] double share_of_failing(const LoadBehaviour& load, double volts, LoadStatus status);

}  // namespace evenleg
