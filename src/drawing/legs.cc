#include "evenleg/drawing/legs.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kFrom = 40, kTo = 430;
constexpr double kTop = 72;
constexpr double kBar = 13;

// The bars of one group of legs, with their amperes; gives the y below.
double draw_group(Canvas& canvas, const std::vector<double>& amps, const Scale& scale, double y,
                  const SupplySystem& system, std::string_view when) {
  for (std::size_t leg = 0; leg < amps.size(); ++leg) {
    canvas.text(kFrom - 4, y + 10, system.legs[leg].name, "e s");
    canvas.leg_rect(static_cast<int>(leg), kFrom, y, scale.at(amps[leg]) - kFrom, kBar - 2);
    canvas.text(scale.at(amps[leg]) + 5, y + 10,
                fmt::format("{} A{}", figure(amps[leg]), leg == 0 ? when : ""), "s");
    y += kBar;
  }
  return y;
}

std::string told(const SupplySystem& system, const std::vector<double>& amps) {
  std::vector<std::string> words;
  for (std::size_t leg = 0; leg < amps.size(); ++leg) {
    words.push_back(fmt::format("{} {} A", system.legs[leg].name, figure(amps[leg])));
  }
  return listed(words);
}

}  // namespace

Drawing draw_legs_by_scenario(const SupplySystem& system, const std::vector<LegLoads>& before,
                              const std::vector<LegLoads>& after,
                              const std::optional<double>& limit) {
  Canvas canvas("legs-by-scenario");
  double most = limit.value_or(1);
  for (const auto* all : {&before, &after}) {
    for (const LegLoads& one : *all) {
      for (const double amps : one.service) most = std::max(most, amps);
    }
  }
  const Scale scale(0, most, kFrom, kTo - 60, 6);
  canvas.text(12, 20, "Amperes of each leg, scenario by scenario", "b");
  double x = 12;
  for (std::size_t leg = 0; leg < system.legs.size(); ++leg) {
    x = canvas.leg_key(static_cast<int>(leg), system.legs[leg].name, x, 40);
  }
  double y = kTop;
  std::vector<std::string> words;
  for (std::size_t s = 0; s < before.size(); ++s) {
    const bool both = s < after.size();
    canvas.text(12, y, fitted(before[s].scenario, kSheetWidth - 24), "");
    y = draw_group(canvas, before[s].service, scale, y + 6, system, both ? ", before" : "");
    words.push_back(fmt::format("{}: {}", before[s].scenario, told(system, before[s].service)));
    if (both) {
      y = draw_group(canvas, after[s].service, scale, y + 3, system, ", after the moves");
      words.back() += ", after the moves " + told(system, after[s].service);
    }
    y += 22;
  }
  if (limit) {
    canvas.line(scale.at(*limit), kTop - 12, scale.at(*limit), y - 18, "ink dash");
    canvas.text(scale.at(*limit), y - 4, fmt::format("{} A a leg", exact(*limit)), "m s");
    words.push_back(fmt::format("limit {} A a leg", exact(*limit)));
  }
  return std::move(canvas).finished(y + 4, "Leg amperes by scenario",
                                    fmt::format("{}.", fmt::join(words, "; ")));
}

std::optional<Drawing> draw_legs_by_hour(const SupplySystem& system, const LogResult& log) {
  if (!log.has_clock) return std::nullopt;
  Canvas canvas("legs-by-hour");
  constexpr double kLeft = 44, kHour = 18, kChartTop = 64, kBottom = 290;
  double least = 0, most = 1;
  const auto value_of = [&](const HourOfDay& hour, std::size_t leg) {
    return log.has_amps ? hour.mean_amps[leg] : hour.mean_volts[leg];
  };
  const auto is_there = [&](const HourOfDay& hour) {
    return (log.has_amps ? hour.amps_samples : hour.samples) > 0;
  };
  if (!log.has_amps) least = 1e9;
  for (const HourOfDay& hour : log.by_hour) {
    for (std::size_t leg = 0; is_there(hour) && leg < 2; ++leg) {
      most = std::max(most, value_of(hour, leg));
      if (!log.has_amps) least = std::min(least, value_of(hour, leg));
    }
  }
  // Volts from a foot a little below the lowest, so that differences can be seen.
  const Scale scale(log.has_amps ? 0 : std::max(0.0, least - 2), most, kBottom, kChartTop, 6);
  canvas.text(12, 20,
              log.has_amps ? "Mean amperes of each leg by hour of day"
                           : "Mean volts of each leg by hour of day",
              "b");
  double x = 12;
  for (int leg = 0; leg < 2; ++leg) {
    x = canvas.leg_key(leg, system.legs[static_cast<std::size_t>(leg)].name, x, 42);
  }
  for (double value = scale.least(); value <= scale.most() + 1e-9; value += scale.step()) {
    canvas.line(kLeft, scale.at(value), kLeft + 24 * kHour, scale.at(value), "grid");
    canvas.text(kLeft - 5, scale.at(value) + 4, exact(std::round(value * 100) / 100), "e s");
  }
  std::vector<std::string> words;
  for (std::size_t h = 0; h < log.by_hour.size(); ++h) {
    const HourOfDay& hour = log.by_hour[h];
    const double left = kLeft + kHour * static_cast<double>(h);
    if (h % 3 == 0) canvas.text(left + kHour / 2, kBottom + 15, fmt::format("{}", h), "m s");
    if (!is_there(hour)) continue;
    for (std::size_t leg = 0; leg < 2; ++leg) {
      const double y = scale.at(value_of(hour, leg));
      canvas.leg_rect(static_cast<int>(leg), left + 1.5 + 7.5 * static_cast<double>(leg), y, 7,
                      kBottom - y);
    }
    words.push_back(fmt::format("{} h: {} {}, {} {}", h, system.legs[0].name,
                                figure(value_of(hour, 0)), system.legs[1].name,
                                figure(value_of(hour, 1))));
  }
  const char* unit = log.has_amps ? "amperes" : "volts";
  canvas.text(kLeft + 12 * kHour, kBottom + 31, fmt::format("hour of day; {}", unit), "m s");
  return std::move(canvas).finished(
      kBottom + 42, "Legs by hour of day",
      fmt::format("Mean {} in the log. {}.", unit, fmt::join(words, "; ")));
}

}  // namespace evenleg
