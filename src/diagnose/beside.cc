#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "src/diagnose/probes.h"
#include "src/diagnose/traps.h"

namespace evenleg {
namespace {

constexpr double kNoAmps = 0.1;   // what a hand clamp cannot tell from nothing; judgement
constexpr double kGone = 0.1;     // share of the current that may remain to count as gone
constexpr double kRemains = 0.5;  // and from which it counts as still there

struct Path {
  const char* name;
  std::optional<double> Reading::*member;
};
constexpr Path kPaths[] = {{"grounding electrode conductor", &Reading::electrode_amps},
                           {"water pipe", &Reading::water_pipe_amps}};

// The largest value with the main on, or off.
std::optional<double> largest(const std::vector<Reading>& readings, const Path& path, bool off) {
  std::optional<double> most;
  for (const Reading& reading : readings) {
    const std::optional<double>& amps = reading.*path.member;
    if (amps && reading.main_off == off) most = std::max(most.value_or(0), *amps);
  }
  return most;
}

std::string on_and_off(const Path& path, double on, double off) {
  const std::string start =
      fmt::format("The {} carried {} A with the main on and {} A with it off: ", path.name,
                  fixed(on, 1), fixed(off, 1));
  if (off <= std::max(kNoAmps, kGone * on)) {
    return start +
           "consistent with this house's own neutral current taking that path. Some does "
           "wherever metal pipes join houses; the amount by itself proves nothing.";
  }
  if (off >= kRemains * on) {
    return start +
           "consistent with current from elsewhere, as from a neighbour's neutral through "
           "shared metal pipe. Do not part the bond; the utility has to be told.";
  }
  return start + "consistent with part of it being this house's own and part from elsewhere.";
}

std::string only_on(const Path& path, double on) {
  return fmt::format(
      "The {} carried {} A with the main on. Whose current that is, only the same "
      "reading with the main off tells.",
      path.name, fixed(on, 1));
}

// How the current of the legs' difference parts, where both are clamped in one reading.
void add_share(const Visit& visit, std::vector<std::string>& sentences) {
  if (!visit.wiring.system.split_phase) return;
  for (const Reading& reading : visit.house.readings) {
    if (kind_of_place(visit, reading) != PlaceRead::FirstPanel) continue;
    if (!reading.l1_amps || !reading.l2_amps || !reading.neutral_amps) continue;
    const double difference = std::abs(*reading.l1_amps - *reading.l2_amps);
    constexpr double kEnoughAmps = 2;  // below, the clamp's error is most of it
    constexpr double kEnoughShare = 0.1;
    if (difference < kEnoughAmps) continue;
    const double beside = difference - *reading.neutral_amps;
    if (beside < kEnoughShare * difference) continue;
    sentences.push_back(fmt::format(
        "{}: the legs differ by {} A and the service neutral carried {} A; some {} A ({} %) would "
        "then return beside it. A resistance of the neutral worked out from the legs is of all "
        "paths together, and the conductor's own is higher.",
        title_of(reading), fixed(difference, 1), fixed(*reading.neutral_amps, 1), fixed(beside, 1),
        fixed(beside / difference * kPercent, 0)));
  }
}

// What the described earth return takes of the resistance that the meter sees.
void add_conductor_alone(const Visit& visit, std::vector<std::string>& sentences) {
  const auto& earth = visit.model.earth_return_ohms;
  if (!earth || *earth <= 0) return;
  for (const SectionEstimate& section : visit.estimation.sections) {
    if (section.to != visit.house.panels.front().name) continue;
    const ConductorEstimate* neutral = section.find("N");
    constexpr double kWorthTelling = 0.02;  // of the estimate
    if (neutral == nullptr || neutral->ohms <= 0 || neutral->ohms >= *earth) continue;
    const double alone = 1 / (1 / neutral->ohms - 1 / *earth);
    if (alone < (1 + kWorthTelling) * neutral->ohms) continue;
    sentences.push_back(fmt::format(
        "The neutral's {} Ω is of all ways back together. With the described earth return of {} Ω "
        "beside it the conductor alone would be {} Ω.",
        figure(neutral->ohms), figure(*earth), figure(alone)));
  }
}

}  // namespace

std::vector<std::string> beside_the_neutral(const Visit& visit) {
  std::vector<std::string> sentences;
  for (const Path& path : kPaths) {
    const auto on = largest(visit.house.readings, path, false);
    const auto off = largest(visit.house.readings, path, true);
    if (on && off && std::max(*on, *off) > kNoAmps) {
      sentences.push_back(on_and_off(path, *on, *off));
    } else if (on && !off && *on > kNoAmps) {
      sentences.push_back(only_on(path, *on));
    } else if (!on && off && *off > kNoAmps) {
      sentences.push_back(on_and_off(path, 0, *off));
    }
  }
  add_share(visit, sentences);
  add_conductor_alone(visit, sentences);
  return sentences;
}

}  // namespace evenleg
