#include "evenleg/diagnose/diagnose.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "src/diagnose/patterns.h"
#include "src/diagnose/traps.h"

namespace evenleg {
namespace {

// The source's volts over nominal: as estimated, where the readings agree on them.
double base_ratio(const Estimation& estimation, const Model& model, const SupplySystem& system) {
  constexpr double kAgreeVolts = 1.5;
  constexpr double kMostError = 2;  // volts
  constexpr double kFar = 0.15;     // of the described volts: no supply that is up
  const double described = std::abs(model.source.front());
  const bool agreed = estimation.source_volts && estimation.residual_volts < kAgreeVolts &&
                      *estimation.source_standard_error < kMostError &&
                      std::abs(*estimation.source_volts / described - 1) < kFar;
  return (agreed ? *estimation.source_volts : described) / system.nominal_volts;
}

// The current through a joint in the neutral or the only loaded conductor of the place.
std::optional<double> joint_amps(const Reading& reading, bool split_phase) {
  if (reading.neutral_amps) return reading.neutral_amps;
  if (reading.l1_amps && reading.l2_amps && split_phase) {
    return std::abs(*reading.l1_amps - *reading.l2_amps);
  }
  if (reading.l1_amps && !reading.l2_amps) return reading.l1_amps;
  if (reading.l2_amps && !reading.l1_amps) return reading.l2_amps;
  return std::nullopt;
}

std::vector<JointReading> joints_of(const House& house, bool split_phase) {
  std::vector<JointReading> joints;
  for (std::size_t r = 0; r < house.readings.size(); ++r) {
    const Reading& reading = house.readings[r];
    if (!reading.joint_volts) continue;
    JointReading joint{static_cast<int>(r), *reading.joint_volts, {}, {}, {}};
    joint.amps = joint_amps(reading, split_phase);
    if (joint.amps && *joint.amps > 0) {
      joint.ohms = joint.volts / *joint.amps;
      joint.watts = joint.volts * *joint.amps;
    }
    joints.push_back(joint);
  }
  return joints;
}

std::string verdict_of(const House& house, const Diagnosis& diagnosis, bool with_log) {
  if (house.readings.empty() && house.visit.empty() && !with_log) {
    return "there are no readings and no answers yet";
  }
  if (!diagnosis.patterns.empty()) return "consistent with " + diagnosis.patterns.front().title;
  if (diagnosis.estimation.sections.empty() && !with_log) {
    return "the readings do not tell the conductors apart yet, and no pattern stands out";
  }
  return "no pattern stands out; that does not show that nothing is wrong";
}

Clues all_clues(const Visit& visit) {
  Clues all;
  for (const auto find : {clues_of_resistances, clues_of_levels, clues_of_pairs, clues_of_changes,
                          clues_of_moments, clues_of_currents, clues_of_answers, clues_of_log}) {
    for (Clue& clue : find(visit)) all.push_back(std::move(clue));
  }
  return all;
}

}  // namespace

Diagnosis diagnose(const House& house, const Tables& tables, const LogResult* log) {
  const Vocabulary words = vocabulary(tables);
  const Wiring wiring = wire(house, *find_system(words, house.supply.system));
  const Model model = build_model(house, wiring, tables);
  const ReadPoints points = read_points(house, wiring, model);
  const ReadingModel readings(house, model, points, true);
  Diagnosis result;
  result.estimation = estimate_from_readings(house, wiring, model);
  const Visit visit{house,
                    wiring,
                    model,
                    tables,
                    points,
                    readings,
                    result.estimation,
                    log,
                    base_ratio(result.estimation, model, wiring.system)};
  result.patterns = ranked_patterns(all_clues(visit), tables.symptoms);
  result.next = next_reading(result.patterns, tables.symptoms);
  result.traps = meter_traps(visit);
  result.beside = beside_the_neutral(visit);
  result.joints = joints_of(house, wiring.system.split_phase);
  result.verdict = verdict_of(house, result, log != nullptr);
  return result;
}

}  // namespace evenleg
