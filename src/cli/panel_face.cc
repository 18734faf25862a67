#include "src/cli/panel_face.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/text_table.h"

namespace evenleg {
namespace {

// Columns of one row: margin, name, amperes, space, leg, space, amperes, name; 98 in all.
constexpr int kMargin = 2;
constexpr int kName = 32;
constexpr int kAmps = 6;
constexpr int kNumber = 3;
constexpr int kGap = 2;

std::string padded(const std::string& text, int width, bool to_the_right) {
  const std::string space(at(std::max(0, width - columns(text))), ' ');
  return to_the_right ? space + text : text + space;
}

const std::string& leg_name(const Wiring& wiring, int leg) {
  return wiring.system.legs[at(leg)].name;
}

// One line of one side of a row.
struct SideLine {
  std::string name, amps;
};

std::string amps_of(const Seat& seat, const House& house) {
  const std::optional<double> breaker = breaker_of(seat, house);
  return breaker ? exact(*breaker) + " A" : "";
}

std::vector<SideLine> lines_of(const Position& position, const House& house, const Wiring& wiring) {
  if (position.seats.empty()) return {{"spare", ""}};
  std::vector<SideLine> lines;
  for (const Seat& seat : position.seats) {
    std::string amps = amps_of(seat, house);
    for (const std::string& part : wrapped(seat_text(seat, position, house, wiring), kName)) {
      lines.push_back({shortened(part, kName), amps});
      amps.clear();
    }
  }
  return lines;
}

std::string without_trailing_spaces(std::string text) {
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

std::string row_line(const SideLine& left, const std::string& left_space, const std::string& leg,
                     const std::string& right_space, const SideLine& right) {
  const std::string gap(kGap, ' ');
  return without_trailing_spaces(
             std::string(kMargin, ' ') + padded(left.name, kName, true) + gap +
             padded(left.amps, kAmps, true) + gap + padded(left_space, kNumber, true) + gap +
             padded(leg, kNumber, false) + gap + padded(right_space, kNumber, true) + gap +
             padded(right.amps, kAmps, true) + gap + right.name) +
         "\n";
}

std::string row_text(const Position& odd, const Position* even, const House& house,
                     const Wiring& wiring) {
  const std::vector<SideLine> left = lines_of(odd, house, wiring);
  const std::vector<SideLine> right =
      even ? lines_of(*even, house, wiring) : std::vector<SideLine>{};
  std::string text;
  for (std::size_t i = 0; i < std::max(left.size(), right.size()); ++i) {
    const bool first = i == 0;
    text += row_line(
        i < left.size() ? left[i] : SideLine{}, first ? fmt::format("{}", odd.space) : "",
        first ? leg_name(wiring, odd.leg) : "", first && even ? fmt::format("{}", even->space) : "",
        i < right.size() ? right[i] : SideLine{});
  }
  return text;
}

std::string heading_of(const PanelFace& face, const House& house, const Wiring& wiring) {
  const Panel& panel = house.panels[at(face.panel)];
  std::string text = fmt::format("Panel {}: {} spaces", panel.name, panel.spaces);
  text += panel.fed_from ? ", fed from " + *panel.fed_from : ", fed by the service";
  std::vector<std::string> spaces;
  for (int space : panel.at_spaces) spaces.push_back(fmt::format("{}", space));
  if (!spaces.empty()) text += " at " + listed(spaces);
  const auto& breaker = face.panel == 0 && house.service && house.service->breaker_a
                            ? house.service->breaker_a
                            : panel.breaker_a;
  if (breaker) text += fmt::format(", {} A", exact(*breaker));
  std::vector<std::string> legs;
  for (int leg : wiring.panels[at(face.panel)].legs) legs.push_back(leg_name(wiring, leg));
  text += ", " + listed(legs);
  if (panel.neutral_loss_trip_volts) {
    text +=
        fmt::format(", opens on neutral loss above {} V", exact(*panel.neutral_loss_trip_volts));
  }
  std::string lines;
  for (const std::string& part : wrapped(text, kPageColumns)) lines += part + "\n";
  return lines;
}

}  // namespace

std::string text_of(const PanelFace& face, const House& house, const Wiring& wiring) {
  std::string text = heading_of(face, house, wiring);
  for (std::size_t i = 0; i < face.positions.size(); i += 2) {
    const Position* even = i + 1 < face.positions.size() ? &face.positions[i + 1] : nullptr;
    text += row_text(face.positions[i], even, house, wiring);
  }
  for (int c : face.by_legs_only) {
    const Circuit& circuit = house.circuits[at(c)];
    const std::string mark = multiwire_mark(wiring, c);
    text += fmt::format("  space not given: {}{}, on {}{}\n", shortened(circuit.name, kName),
                        mark.empty() ? "" : fmt::format(" [{}]", mark), listed(circuit.legs),
                        circuit.breaker_a ? fmt::format(", {} A", exact(*circuit.breaker_a)) : "");
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    if (wiring.panels[p].fed_from != face.panel || !house.panels[p].at_spaces.empty()) continue;
    text += fmt::format("  space not given: feeds {}\n", shortened(house.panels[p].name, kName));
  }
  return text;
}

}  // namespace evenleg
