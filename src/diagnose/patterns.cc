#include "src/diagnose/patterns.h"

#include <algorithm>

namespace evenleg {
namespace {

// A strong clue, or two that many conditions share.
constexpr double kNamed = kStrong;

bool is_repeated(const PatternMatch& match, const std::string& text) {
  const auto in = [&](const std::vector<std::string>& texts) {
    return std::find(texts.begin(), texts.end(), text) != texts.end();
  };
  return in(match.for_it) || in(match.against_it);
}

const std::string* outcome(const SeparatingReading& reading, const std::string& pattern) {
  for (const SeparatingReading::Outcome& one : reading.shows) {
    if (one.pattern == pattern) return &one.sees;
  }
  return nullptr;
}

}  // namespace

std::vector<PatternMatch> ranked_patterns(const Clues& clues, const SymptomTables& tables) {
  std::vector<PatternMatch> all;
  for (const SymptomPattern& pattern : tables.patterns) {
    PatternMatch match{pattern.name, pattern.title, pattern.seen, pattern.source, 0, {}, {}};
    for (const Clue& clue : clues) {
      if (clue.pattern != pattern.name || is_repeated(match, clue.text)) continue;
      match.score += clue.weight;
      (clue.weight > 0 ? match.for_it : match.against_it).push_back(clue.text);
    }
    if (match.score >= kNamed) all.push_back(std::move(match));
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const PatternMatch& a, const PatternMatch& b) { return a.score > b.score; });
  return all;
}

std::optional<NextReading> next_reading(const std::vector<PatternMatch>& patterns,
                                        const SymptomTables& tables) {
  if (patterns.size() < 2) return std::nullopt;
  for (const SeparatingReading& reading : tables.separating) {
    const std::string* first = outcome(reading, patterns[0].name);
    const std::string* second = outcome(reading, patterns[1].name);
    if (first == nullptr || second == nullptr || *first == *second) continue;
    return NextReading{reading.take, *first, *second};
  }
  return std::nullopt;
}

}  // namespace evenleg
