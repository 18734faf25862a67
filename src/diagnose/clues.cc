#include "src/diagnose/clues.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

int outlet_of(const Visit& visit, const Reading& reading) {
  const auto& outlets = visit.house.outlets;
  const auto found = std::find_if(outlets.begin(), outlets.end(),
                                  [&](const Outlet& outlet) { return outlet.name == reading.at; });
  return found == outlets.end() ? -1 : static_cast<int>(found - outlets.begin());
}

}  // namespace

std::vector<std::optional<double>> leg_ratios(const Visit& visit, const Reading& reading) {
  const std::size_t legs = visit.wiring.system.legs.size();
  std::vector<std::optional<double>> ratios(legs);
  for (std::size_t leg = 0; leg < legs; ++leg) {
    const std::optional<double>& volts = reading.*(volts_keys()[leg].member);
    if (volts) ratios[leg] = *volts / visit.wiring.system.nominal_volts;
  }
  return ratios;
}

std::string title_of(const Reading& reading) {
  return reading.label ? reading.at + ", " + in_quotes(*reading.label) : reading.at;
}

const std::string& leg_name(const Visit& visit, std::size_t leg) {
  return visit.wiring.system.legs[leg].name;
}

bool Move::any() const {
  return std::any_of(volts.begin(), volts.end(), [](const auto& one) { return one.has_value(); });
}

double Move::least(bool of_unexplained) const {
  double least = std::numeric_limits<double>::infinity();
  for (const auto& one : of_unexplained ? unexplained : volts) {
    if (one) least = std::min(least, *one);
  }
  return least;
}

double Move::most(bool of_unexplained) const {
  double most = -std::numeric_limits<double>::infinity();
  for (const auto& one : of_unexplained ? unexplained : volts) {
    if (one) most = std::max(most, *one);
  }
  return most;
}

Move move_between(const Visit& visit, std::size_t from, std::size_t to) {
  const std::vector<Reading>& readings = visit.house.readings;
  const Eigen::VectorXd described = visit.readings.described();
  const int point = visit.points.of_reading[to];
  const auto state = [&](std::size_t r) {
    return visit.readings.state(described, visit.readings.place(readings[r], point));
  };
  const ReadState before = state(from);
  const ReadState after = state(to);
  const ReadPoint& where = visit.points.points[static_cast<std::size_t>(point)];
  const std::size_t legs = visit.wiring.system.legs.size();
  Move move{std::vector<std::optional<double>>(legs), std::vector<std::optional<double>>(legs)};
  for (std::size_t leg = 0; leg < legs; ++leg) {
    const auto member = volts_keys()[leg].member;
    const int wire = where.wire_of_leg(static_cast<int>(leg));
    if (wire < 0 || !(readings[from].*member) || !(readings[to].*member)) continue;
    const auto volts = [&](const ReadState& in) {
      const auto& here = in.volts[static_cast<std::size_t>(point)];
      return std::abs(here[static_cast<std::size_t>(wire)] - here.back());
    };
    move.volts[leg] = *(readings[to].*member) - *(readings[from].*member);
    move.unexplained[leg] = *move.volts[leg] - (volts(after) - volts(before));
  }
  return move;
}

std::string text_of(const Visit& visit, const Move& move) {
  std::vector<std::string> parts;
  for (std::size_t leg = 0; leg < move.volts.size(); ++leg) {
    if (!move.volts[leg]) continue;
    const double volts = *move.volts[leg];
    parts.push_back(fmt::format("{} {}{} V", leg_name(visit, leg), volts < 0 ? "−" : "+",
                                fixed(std::abs(volts), 1)));
  }
  return listed(parts);
}

std::optional<std::size_t> without_load_beside(const std::vector<Reading>& readings,
                                               std::size_t reading) {
  std::optional<std::size_t> beside;
  for (std::size_t r = 0; r < readings.size(); ++r) {
    if (readings[r].at != readings[reading].at || !is_without_load(readings[r])) continue;
    if (!beside || r < reading) beside = r;
  }
  return beside;
}

PlaceRead kind_of_place(const Visit& visit, const Reading& reading) {
  if (outlet_of(visit, reading) >= 0) return PlaceRead::Outlet;
  return reading.at == visit.house.panels.front().name ? PlaceRead::FirstPanel
                                                       : PlaceRead::SubPanel;
}

const Cable* cable_of(const Visit& visit, const Reading& reading) {
  const int outlet = outlet_of(visit, reading);
  if (outlet < 0) return nullptr;
  const int cable = visit.wiring.outlet_cable[static_cast<std::size_t>(outlet)];
  return &visit.wiring.cables[static_cast<std::size_t>(cable)];
}

bool on_multiwire(const Visit& visit, const Reading& reading) {
  const Cable* cable = cable_of(visit, reading);
  return cable != nullptr && cable->multiwire >= 0;
}

}  // namespace evenleg
