#include "evenleg/tables/patterns.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "src/tables/readers.h"

namespace evenleg {
namespace {

// Every pattern that the program looks for; a file must hold each once.
constexpr std::string_view kPatterns[] = {
    "service neutral",  "feeder joint", "multiwire neutral", "multiwire neutral at a device",
    "two-wire neutral", "same leg",     "crossed neutrals",  "service hot",
    "supply drop",      "motor start",  "branch joint",      "supply level",
    "line disturbance", "lamp",
};

bool is_pattern(std::string_view name) {
  return std::find(std::begin(kPatterns), std::end(kPatterns), name) != std::end(kPatterns);
}

template <class Named>
bool holds(const std::vector<Named>& all, std::string_view name) {
  return std::any_of(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
}

SymptomPattern read_pattern(Row& row) {
  SymptomPattern pattern;
  pattern.name = row.text("name");
  pattern.title = row.text("title");
  pattern.seen = row.text("seen");
  pattern.source = row.text("source");
  for (Row& part : row.rows("weighs")) {
    FactWeight weight;
    weight.fact = part.text("fact");
    weight.weight = part.number("weight", Allowed::Any);
    part.end();
    pattern.weighs.push_back(std::move(weight));
  }
  row.end();
  return pattern;
}

IntakeFact read_fact(Row& row) {
  IntakeFact fact;
  fact.name = row.text("name");
  fact.words = row.texts_if("words");
  fact.all = row.texts_if("all");
  if (fact.words.empty()) row.refuse("words", "no words", "list what shows the fact");
  row.end();
  return fact;
}

SeparatingReading read_separating(Row& row) {
  SeparatingReading reading;
  reading.take = row.text("take");
  for (Row& part : row.rows("shows")) {
    SeparatingReading::Outcome outcome;
    outcome.pattern = part.text("pattern");
    outcome.sees = part.text("sees");
    if (!outcome.pattern.empty() && !is_pattern(outcome.pattern)) {
      part.refuse("pattern", fmt::format("no pattern is called \"{}\"", outcome.pattern),
                  "correct its name");
    }
    part.end();
    reading.shows.push_back(std::move(outcome));
  }
  row.end();
  return reading;
}

void read_pattern_rows(Row& root, SymptomTables& symptoms) {
  for (Row& row : root.rows("pattern")) {
    SymptomPattern pattern = read_pattern(row);
    if (!pattern.name.empty() && !is_pattern(pattern.name)) {
      row.refuse("name", fmt::format("no pattern is called \"{}\"", pattern.name),
                 "correct its name or remove it");
    } else if (holds(symptoms.patterns, pattern.name)) {
      row.refuse("name", fmt::format("the pattern \"{}\" is there twice", pattern.name),
                 "remove one");
    }
    for (const FactWeight& weight : pattern.weighs) {
      if (holds(symptoms.facts, weight.fact)) continue;
      row.refuse("weighs", fmt::format("no fact is called \"{}\"", weight.fact),
                 "correct its name or add the fact");
    }
    symptoms.patterns.push_back(std::move(pattern));
  }
  for (std::string_view name : kPatterns) {
    if (holds(symptoms.patterns, name)) continue;
    root.refuse("pattern", fmt::format("no entry for \"{}\"", name), "add it");
  }
}

}  // namespace

void read_patterns(Row& root, Tables& tables) {
  SymptomTables& symptoms = tables.symptoms;
  symptoms.source = root.citation("source");
  for (Row& row : root.rows("fact")) symptoms.facts.push_back(read_fact(row));
  read_pattern_rows(root, symptoms);
  for (Row& row : root.rows("separating")) symptoms.separating.push_back(read_separating(row));
  root.end();
}

const SymptomPattern* find_pattern(const SymptomTables& tables, std::string_view name) {
  const auto found = std::find_if(tables.patterns.begin(), tables.patterns.end(),
                                  [&](const SymptomPattern& one) { return one.name == name; });
  return found == tables.patterns.end() ? nullptr : &*found;
}

}  // namespace evenleg
