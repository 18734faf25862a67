#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/drawing/service.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kFrom = 78, kTo = 402;  // between the boxes
constexpr double kFirst = 84;            // height of the first conductor
constexpr double kApart = 78;
constexpr double kWidest = 34;
constexpr double kThinnest = 1.5;
constexpr double kHead = 16;

// An arrow of that width along y; `out`: towards the house.
std::string arrow(double y, double width, bool out) {
  const double half = width / 2, head = std::max(7.0, half + 5);
  const double tail = out ? kFrom + 4 : kTo - 4, tip = out ? kTo - 4 : kFrom + 4;
  const double neck = out ? tip - kHead : tip + kHead;
  return fmt::format(
      "M{:.1f},{:.1f} H{:.1f} V{:.1f} L{:.1f},{:.1f} L{:.1f},{:.1f} V{:.1f} H{:.1f} Z", tail,
      y - half, neck, y - head, tip, y, neck, y + head, y + half, tail);
}

std::string balance_words(const ServiceAmps& service) {
  const double n = service.neutral_amps;
  std::string words;
  if (service.legs.size() == 2 && service.split_phase) {
    const double a = service.legs[0].amps, b = service.legs[1].amps;
    words = fmt::format("The legs oppose each other: {} A against {} A leaves {} A in the neutral",
                        figure(std::max(a, b)), figure(std::min(a, b)), figure(n));
    const double plain = std::abs(a - b);
    constexpr double kRounding = 0.02;  // of the neutral's: more than rounding
    if (std::abs(plain - n) > kRounding * n) {
      words += fmt::format(" (by phase; plain subtraction would give {} A)", figure(plain));
    }
  } else {
    words = fmt::format("The phasor sum of the legs leaves {} A in the neutral", figure(n));
  }
  constexpr double kWorthTelling = 0.05;  // A
  if (service.earth_amps >= kWorthTelling) {
    words += fmt::format(", and {} A beside it through earth", figure(service.earth_amps));
  }
  return words + ".";
}

}  // namespace

Drawing draw_service_wires(const ServiceAmps& service) {
  Canvas canvas("service-wires");
  const std::size_t legs = service.legs.size();
  const double bottom = kFirst + kApart * static_cast<double>(legs) + 34;
  canvas.text(12, 20, "The service as found, amperes as widths", "b");
  for (const auto& [x, name] : {std::pair{12.0, "source"}, std::pair{kTo, "panel"}}) {
    canvas.rect(x, kFirst - 42, kFrom - 12, bottom - kFirst + 42, "plate");
    canvas.text(x + (kFrom - 12) / 2, bottom + 16, name, "m s");
  }
  double most = service.neutral_amps;
  for (const auto& leg : service.legs) most = std::max(most, leg.amps);
  const auto width = [&](double amps) {
    return most > 0 ? std::max(kThinnest, kWidest * amps / most) : kThinnest;
  };
  // One half-cycle: on a split winding the second leg's current then comes back; of a wye no one
  // moment shows all, so that every leg goes out.
  const bool two_ways = legs == 2 && service.split_phase;
  std::vector<std::string> told;
  for (std::size_t leg = 0; leg < legs; ++leg) {
    const auto& one = service.legs[leg];
    const double y = kFirst + kApart * static_cast<double>(leg < 1 ? 0 : leg + 1 - (legs == 1));
    canvas.leg_path(static_cast<int>(leg), arrow(y, width(one.amps), !(two_ways && leg == 1)));
    const std::string words =
        fmt::format("{}: {} A, {} V to neutral", one.name, figure(one.amps), figure(one.volts));
    canvas.text((kFrom + kTo) / 2, y - 24, words, "m b");
    told.push_back(words);
  }
  const double y = kFirst + kApart;
  const bool back = !two_ways || service.legs[0].amps >= service.legs[1].amps;
  canvas.path(arrow(y, width(service.neutral_amps), !back), "n");
  canvas.text((kFrom + kTo) / 2, y - 24, fmt::format("neutral: {} A", figure(service.neutral_amps)),
              "m b");
  const std::string words = balance_words(service);
  double foot = bottom + 40;
  for (const std::string& part : wrapped(words, 62)) {
    canvas.text(12, foot, part, "s");
    foot += 15;
  }
  if (two_ways) {
    canvas.text(12, foot,
                "Arrows: one half of the cycle; in the other half all point the other way.", "s");
    foot += 15;
  }
  return std::move(canvas).finished(foot, "The conductors of the service, as found",
                                    fmt::format("{}; neutral: {} A. {}", fmt::join(told, "; "),
                                                figure(service.neutral_amps), words));
}

Drawing draw_legs_before_and_after(const std::vector<LegVolts>& legs, double nominal_volts) {
  Canvas canvas("legs-before-and-after");
  constexpr double kBarFrom = 40, kBarTo = 340, kBarTop = 66, kBar = 18, kGroup = 62;
  double most = 1.25 * nominal_volts;
  for (const LegVolts& leg : legs) most = std::max({most, leg.sound, leg.open});
  const Scale scale(0, most, kBarFrom, kBarTo, 6);
  canvas.text(12, 20, "Each part of the supply, neutral whole or open", "b");
  const double bottom = kBarTop + kGroup * static_cast<double>(legs.size());
  for (double volts = 0; volts <= scale.most() + 1e-9; volts += scale.step()) {
    canvas.line(scale.at(volts), kBarTop - 10, scale.at(volts), bottom - 10, "grid");
    canvas.text(scale.at(volts), bottom + 6, fmt::format("{:.0f}", volts), "m s");
  }
  std::vector<std::string> told;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    const double y = kBarTop + kGroup * static_cast<double>(i);
    const int leg = static_cast<int>(i);
    canvas.text(12, y + kBar, legs[i].name, "b");
    for (const bool open : {false, true}) {
      const double volts = open ? legs[i].open : legs[i].sound;
      const double top = y + (open ? kBar + 4 : 0);
      canvas.leg_rect(leg, kBarFrom, top, scale.at(volts) - kBarFrom, kBar);
      canvas.text(kBarTo + 16, top + kBar - 4,
                  fmt::format("{} V {}", figure(volts), open ? "open" : "whole"), open ? "b" : "");
    }
    told.push_back(fmt::format("{}: {} V with the neutral whole, {} V with it open", legs[i].name,
                               figure(legs[i].sound), figure(legs[i].open)));
  }
  canvas.line(scale.at(nominal_volts), kBarTop - 14, scale.at(nominal_volts), bottom - 10,
              "ink dash");
  canvas.text(scale.at(nominal_volts), kBarTop - 20,
              fmt::format("made for {} V", figure(nominal_volts)), "m s");
  canvas.text(12, bottom + 24, "Volts at the panel, as things were switched on.", "s");
  return std::move(canvas).finished(bottom + 34, "Each leg before and after the neutral opens",
                                    fmt::format("{}.", fmt::join(told, "; ")));
}

}  // namespace evenleg
