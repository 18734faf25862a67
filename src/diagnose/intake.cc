#include "src/diagnose/intake.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "evenleg/base/quoted.h"

namespace evenleg {
namespace {

using Words = std::vector<std::string>;

constexpr std::size_t kReach = 3;  // words before, within which a "no" counts

bool is_letter(char c) {
  const auto byte = static_cast<unsigned char>(c);
  constexpr unsigned char kBeyondAscii = 0x80;  // part of a letter of another script
  return std::isalnum(byte) != 0 || byte >= kBeyondAscii || c == '\'' || c == '/' || c == '-' ||
         c == ':';
}

// Clauses of words in lower case.
std::vector<Words> clauses_of(std::string_view text) {
  std::vector<Words> clauses(1);
  std::string word;
  const auto end_word = [&] {
    if (word == "but")
      clauses.emplace_back();
    else if (!word.empty())
      clauses.back().push_back(word);
    word.clear();
  };
  for (const char c : text) {
    if (is_letter(c)) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      continue;
    }
    end_word();
    if (std::string_view(".,;!?\n").find(c) != std::string_view::npos) clauses.emplace_back();
  }
  end_word();
  return clauses;
}

bool denies(const std::string& word) {
  static const Words kDenials{"no", "not", "never", "without", "none", "nor"};
  const bool contracted = word.size() > 2 && word.ends_with("n't");
  return contracted || std::find(kDenials.begin(), kDenials.end(), word) != kDenials.end();
}

bool says(const Words& clause, const Words& phrase) {
  for (auto from = clause.begin();;) {
    const auto found = std::search(from, clause.end(), phrase.begin(), phrase.end());
    if (found == clause.end()) return false;
    const auto before =
        std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(kReach), found - clause.begin());
    if (std::none_of(found - before, found, denies)) return true;
    from = found + 1;
  }
}

bool says_any(const std::vector<Words>& clauses, const IntakeFact& fact) {
  for (const std::string& text : fact.words) {
    const Words phrase = clauses_of(text).front();
    if (phrase.empty()) continue;
    for (const Words& clause : clauses) {
      if (says(clause, phrase)) return true;
    }
  }
  return false;
}

// Fields of the record of a visit, which tell of the visit and not of what people see.
bool is_of_the_record(std::string_view key) {
  constexpr std::array<std::string_view, 21> kKeys{
      "date",        "arrived",          "left",           "by",
      "licence",     "license",          "client",         "weather",
      "access",      "utility_contact",  "handed_over",    "job",
      "address",     "instrument",       "damaged_items",  "work_done",
      "meter_input", "accuracy_percent", "accuracy_volts", "amps_accuracy_percent",
      "places_read"};
  return std::find(kKeys.begin(), kKeys.end(), key) != kKeys.end();
}

bool heard(const std::vector<FactHeard>& facts, const std::string& name) {
  return std::any_of(facts.begin(), facts.end(),
                     [&](const FactHeard& one) { return one.fact == name; });
}

}  // namespace

std::vector<FactHeard> facts_heard(const FreeText& visit, const SymptomTables& tables) {
  std::vector<FactHeard> facts;
  for (const IntakeFact& fact : tables.facts) {
    for (const auto& [key, answer] : visit) {
      if (is_of_the_record(key)) continue;
      if (!says_any(clauses_of(key + ": " + answer), fact)) continue;
      facts.push_back({fact.name, key + ": " + in_quotes(answer)});
      break;
    }
  }
  for (const IntakeFact& fact : tables.facts) {
    if (fact.all.empty() || heard(facts, fact.name)) continue;
    const bool whole = std::all_of(fact.all.begin(), fact.all.end(),
                                   [&](const std::string& part) { return heard(facts, part); });
    if (whole) facts.push_back({fact.name, "the answers together"});
  }
  return facts;
}

}  // namespace evenleg
