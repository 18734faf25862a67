// The few unknowns that are left when every cable is collapsed: the panels' volts.
//
// A *port* is a hot bus and the neutral that its currents return to: (panel, leg, neutral's panel),
// the two panels being one except for a multiwire that is fed from two. With p the ports' volts, Y the
// cables' admittances added on them, E the source's volts,
//   p = E - Z Y p,   Z[r,s] = Zs[a,b] + sum over panels whose run both share (δab z_hot + z_neutral),
// and, where a service or feeder neutral is removed, n the volts by which the neutral beyond is
// displaced from where its own return would hold it, b marking the ports beyond,
//   p = E - Z Y p - b n,   bᵀ Y p = 0.
// Z holds no conductor that is removed. The service neutral has the earth return beside it, so with an
// earth return its removal is only a larger z_neutral.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/network/model.h"
#include "evenleg/network/places.h"

namespace evenleg {

struct Port {
  int panel = 0;
  int leg = 0;
  int neutral_panel = 0;

  bool operator==(const Port&) const = default;
};

struct PanelSystem {
  std::vector<Port> ports;
  std::vector<std::vector<int>> cable_ports;  // [cable][hot]
  Vector e;                                   // volts
  Matrix z;                                   // ohms
  bool floating = false;                      // a removed neutral with no other way back
  Vector beyond;                              // b: 1 or 0; zero when nothing floats
  std::vector<Complex> neutral_ohms;          // of each panel's run as it is now, earth return beside it
};

// Index of the port, -1 when there is none.
[[nodiscard]] int find_port(const std::vector<Port>& ports, const Port& port);

// `fault` in a cable leaves the panel system as it is when sound.
[[nodiscard]] PanelSystem panel_system(const Model& model,
                                       const std::optional<NeutralFault>& fault);

// Panels from `panel` up to the first one, both included.
[[nodiscard]] std::vector<int> path_to_source(const Model& model, int panel);

// The service neutral conductor as it is now, alone; nothing when it is removed.
[[nodiscard]] std::optional<Complex> service_neutral_ohms(const Model& model,
                                                          const std::optional<NeutralFault>& fault);

struct PanelVolts {
  Vector p;               // ports' volts
  Vector i;               // Y p: port currents
  Complex displacement{}; // n
  bool isolated = false;  // floating, and nothing joins it: n has no meaning
  bool solved = true;     // false: numerically singular
};

// Requires: y is ports by ports. `joined`: some load joins the floating neutral.
[[nodiscard]] PanelVolts solve_panels(const PanelSystem& system, const Matrix& y, bool joined);

}  // namespace evenleg
