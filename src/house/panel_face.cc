#include "evenleg/house/panel_face.h"

#include <fmt/format.h>

#include "evenleg/base/index.h"

namespace evenleg {

PanelFace face_of(const House& house, const Wiring& wiring, int panel) {
  PanelFace face;
  face.panel = panel;
  const std::vector<int>& bus = wiring.panels[at(panel)].legs;
  for (int space = 1; space <= house.panels[at(panel)].spaces; ++space) {
    face.positions.push_back({space, bus[at((space - 1) / 2) % bus.size()], {}});
  }
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    const Circuit& circuit = house.circuits[c];
    if (wiring.circuit_panel[c] != panel) continue;
    if (!circuit.space) face.by_legs_only.push_back(static_cast<int>(c));
    for (int pole = 0; circuit.space && pole < circuit.poles; ++pole) {
      face.positions[at(*circuit.space + 2 * pole - 1)].seats.push_back(
          {static_cast<int>(c), -1, pole});
    }
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    if (wiring.panels[p].fed_from != panel) continue;
    int pole = 0;
    for (int space : house.panels[p].at_spaces) {
      face.positions[at(space - 1)].seats.push_back({-1, static_cast<int>(p), pole++});
    }
  }
  return face;
}

std::string multiwire_mark(const Wiring& wiring, int circuit) {
  const int multiwire = wiring.cables[at(wiring.circuit_cable[at(circuit)])].multiwire;
  return multiwire < 0 ? "" : fmt::format("M{}", multiwire + 1);
}

std::optional<double> breaker_of(const Seat& seat, const House& house) {
  return seat.fed_panel >= 0 ? house.panels[at(seat.fed_panel)].breaker_a
                             : house.circuits[at(seat.circuit)].breaker_a;
}

std::string seat_text(const Seat& seat, const Position& position, const House& house,
                      const Wiring& wiring) {
  if (seat.fed_panel >= 0) return "feeds " + house.panels[at(seat.fed_panel)].name;
  const Circuit& circuit = house.circuits[at(seat.circuit)];
  std::string text = circuit.name;
  if (circuit.poles > 1) text += fmt::format(" ({} of {})", seat.pole + 1, circuit.poles);
  const std::string mark = multiwire_mark(wiring, seat.circuit);
  if (!mark.empty()) text += fmt::format(" [{}]", mark);
  const int leg = wiring.circuit_legs[at(seat.circuit)][at(seat.pole)];
  if (leg != position.leg) text += " on " + wiring.system.legs[at(leg)].name;
  return text;
}

}  // namespace evenleg
