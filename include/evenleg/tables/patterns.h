// What readings and answers can be consistent with, as data/patterns.toml has it: the patterns,
// what an answer counts for each, the words that show a fact in an answer, and the readings that
// part one pattern from another. Common practice; the file says how it was read.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"

namespace evenleg {

struct FactWeight {
  std::string fact;
  double weight = 0;  // for the pattern above 0, against it below
};

struct SymptomPattern {
  std::string name;    // "service neutral"
  std::string title;   // "a loose or open service neutral"
  std::string seen;    // what people then see
  std::string source;  // kind of page
  std::vector<FactWeight> weighs;
};

// What an answer of the intake holds.
struct IntakeFact {
  std::string name;
  std::vector<std::string> words;  // any of these, as whole words, without regard to case,
  std::vector<std::string> all;    // or all of these facts
};

struct SeparatingReading {
  struct Outcome {
    std::string pattern;
    std::string sees;
  };
  std::string take;
  std::vector<Outcome> shows;
};

struct SymptomTables {
  std::vector<SymptomPattern> patterns;
  std::vector<IntakeFact> facts;
  std::vector<SeparatingReading> separating;
  Citation source;
};

[[nodiscard]] const SymptomPattern* find_pattern(const SymptomTables& tables,
                                                 std::string_view name);

}  // namespace evenleg
