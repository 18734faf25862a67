// What the readings of a visit support, and what they do not prove.
//
// Estimates of each conductor (estimate.h), the patterns of data/patterns.toml that readings,
// answers and the described house are consistent with, the next reading that would part the first
// two, readings that contradict each other, and what currents with the main off say. Never a cause,
// and never that nothing is wrong. Units: V, A, Ω, W.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/diagnose/estimate.h"
#include "evenleg/diagnose/log.h"
#include "evenleg/house/house.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct PatternMatch {
  std::string name;
  std::string title;
  std::string seen;    // what people then see
  std::string source;  // of the pattern
  double score = 0;    // for less against, by the program's weights
  std::vector<std::string> for_it;
  std::vector<std::string> against_it;
};

// A reading that would part the first two patterns, and what it shows under each.
struct NextReading {
  std::string take;
  std::string first_shows;
  std::string second_shows;
};

// Volts across a joint, with the current through it where that is known.
struct JointReading {
  int reading = 0;
  double volts = 0;
  std::optional<double> amps;
  std::optional<double> ohms;
  std::optional<double> watts;
};

struct Diagnosis {
  Estimation estimation;
  std::vector<PatternMatch> patterns;  // first the one that most speaks for
  std::optional<NextReading> next;
  std::vector<std::string> traps;   // readings to distrust, and why; whole sentences
  std::vector<std::string> beside;  // current beside the service neutral; whole sentences
  std::vector<JointReading> joints;
  std::string verdict;  // one sentence
};

// Requires: validate() found nothing. `log`: of a recorder at the first panel, whose swings speak
// for and against patterns too.
[[nodiscard]] Diagnosis diagnose(const House& house, const Tables& tables,
                                 const LogResult* log = nullptr);

}  // namespace evenleg
