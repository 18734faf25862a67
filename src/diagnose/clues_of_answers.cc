// What the answers of the intake say, weighed as data/patterns.toml has it.
#include <fmt/format.h>

#include "src/diagnose/clues.h"
#include "src/diagnose/intake.h"

namespace evenleg {

Clues clues_of_answers(const Visit& visit) {
  const SymptomTables& tables = visit.tables.symptoms;
  Clues clues;
  for (const FactHeard& heard : facts_heard(visit.house.visit, tables)) {
    for (const SymptomPattern& pattern : tables.patterns) {
      for (const FactWeight& weight : pattern.weighs) {
        if (weight.fact != heard.fact) continue;
        clues.push_back({pattern.name, weight.weight,
                         fmt::format("{} (reported: {})", heard.fact, heard.said)});
      }
    }
  }
  return clues;
}

}  // namespace evenleg
