#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "evenleg/base/format.h"
#include "evenleg/drawing/volts.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kNames = 176;
constexpr double kFrom = 192, kTo = 452;
constexpr double kTop = 100;
constexpr double kLine = 17;  // of one leg
constexpr double kBetween = 8;
constexpr int kDecimals = 1;

// The leg of "l1_n_volts", by its place in the supply; -1 for other keys.
int leg_of(const std::string& key) {
  static const std::map<std::string, int> kLegs{
      {"l1_n_volts", 0}, {"l2_n_volts", 1}, {"l3_n_volts", 2}};
  const auto found = kLegs.find(key);
  return found == kLegs.end() ? -1 : found->second;
}

std::string name_of(const House& house, int reading) {
  const Reading& one = house.readings[static_cast<std::size_t>(reading)];
  return fmt::format("{}. {}", reading + 1,
                     one.label      ? *one.label
                     : one.main_off ? "main off"
                                    : "at " + one.at);
}

}  // namespace

std::optional<Drawing> draw_readings(const House& house, const SupplySystem& system,
                                     const Estimation& estimation) {
  std::map<int, std::vector<const ReadVolts*>> rows;  // by reading
  double least = 1e9, most = 0;
  for (const ReadVolts& one : estimation.volts) {
    if (leg_of(one.key) < 0) continue;
    rows[one.reading].push_back(&one);
    least = std::min({least, one.volts, one.expected});
    most = std::max({most, one.volts, one.expected});
  }
  if (rows.empty()) return std::nullopt;
  Canvas canvas("readings");
  const Scale scale(least, most, kFrom, kTo, 6);
  canvas.text(12, 20, "Volts to neutral as measured and as expected", "b");
  double x = 12;
  for (std::size_t leg = 0; leg < system.legs.size(); ++leg) {
    canvas.leg_sign(static_cast<int>(leg), x + 5, 37, true);
    canvas.text(x + 15, 41, system.legs[leg].name, "s");
    x += 50;
  }
  canvas.text(x, 41, "filled: measured. Hollow: expected of the described", "s");
  canvas.text(12, 57, "runs at the same currents. A long line: the two part.", "s");
  double bottom = kTop;
  for (const auto& [reading, volts] : rows) {
    bottom += kLine * static_cast<double>(volts.size()) + kBetween;
  }
  for (double volts = scale.least(); volts <= scale.most() + 1e-9; volts += scale.step()) {
    canvas.line(scale.at(volts), kTop - 8, scale.at(volts), bottom, "grid");
    canvas.text(scale.at(volts), kTop - 14, exact(std::round(volts * 100) / 100) + " V", "m s");
  }
  std::vector<std::string> words;
  double y = kTop;
  for (const auto& [reading, volts] : rows) {
    canvas.text(12, y + 11, fitted(name_of(house, reading), kNames, kSmallSize), "s");
    for (const ReadVolts* one : volts) {
      const int leg = leg_of(one->key);
      canvas.line(scale.at(one->expected), y + 7, scale.at(one->volts), y + 7, "ink bold");
      canvas.leg_sign(leg, scale.at(one->expected), y + 7, false);
      canvas.leg_sign(leg, scale.at(one->volts), y + 7, true);
      words.push_back(fmt::format("{}, {}: {} V measured, {} V expected", name_of(house, reading),
                                  system.legs[static_cast<std::size_t>(leg)].name,
                                  fixed(one->volts, kDecimals), fixed(one->expected, kDecimals)));
      y += kLine;
    }
    y += kBetween;
  }
  return std::move(canvas).finished(bottom + 6, "Readings, measured against expected",
                                    fmt::format("{}.", fmt::join(words, "; ")));
}

}  // namespace evenleg
