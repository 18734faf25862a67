// Estimated resistances beside what the runs account for.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"

namespace evenleg {
namespace {

// Above it a neutral counts as open: less current than a lamp's through it.
constexpr double kAsGoodAsOpenOhms = 200;

bool is_neutral(const ConductorEstimate& conductor) { return conductor.conductor == "N"; }

std::string way(const SectionEstimate& section) {
  const std::string from = section.from.empty() ? "the source" : section.from;
  return fmt::format("between {} and {}", from, section.to);
}

std::string text_of(const SectionEstimate& section, const ConductorEstimate& one) {
  constexpr int kDecimals = 3;
  std::string text = fmt::format("{} {}: {} ± {} Ω", one.conductor, way(section),
                                 fixed(one.ohms, kDecimals), fixed(one.standard_error, kDecimals));
  if (one.expected_ohms) {
    text += fmt::format(", {} Ω expected of its run", fixed(*one.expected_ohms, kDecimals));
  }
  return text;
}

// Larger excess first, where two patterns are otherwise even: up to one more.
double by_size(const ConductorEstimate& one) {
  const double excess = std::max(0.0, one.excess_ohms.value_or(0));
  return kDecisive + excess / (1 + excess);
}

class ResistancesFinder {
 public:
  explicit ResistancesFinder(const SectionEstimate& section) : section_(section) {}

  Clues all() {
    if (section_.kind == SectionKind::Service) service();
    if (section_.kind == SectionKind::Feeder) feeder();
    if (section_.kind == SectionKind::Branch) branch();
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, const ConductorEstimate& one) {
    clues_.push_back({pattern, weight, text_of(section_, one)});
  }

  void service() {
    std::vector<const ConductorEstimate*> high, low;
    for (const ConductorEstimate& one : section_.conductors) {
      if (!one.alone()) {
        together(one);
      } else if (is_neutral(one)) {
        one.stands_out ? add("service neutral", by_size(one), one)
                       : add("service neutral", -kDecisive, one);
      } else {
        (one.stands_out ? high : low).push_back(&one);
      }
    }
    hots(high, low);
  }

  // One hot that stands out is that hot; all of them are the supply.
  void hots(const std::vector<const ConductorEstimate*>& high,
            const std::vector<const ConductorEstimate*>& low) {
    for (const ConductorEstimate* one : high) {
      add(low.empty() && high.size() > 1 ? "supply drop" : "service hot", by_size(*one), *one);
    }
    if (high.empty() && !low.empty()) add("service hot", -kDecisive, *low.front());
    if (!low.empty()) add("supply drop", -kStrong, *low.front());
  }

  void together(const ConductorEstimate& one) {
    if (!one.stands_out) return;
    for (const char* pattern : {"service neutral", "service hot", "supply drop"}) {
      add(pattern, kStrong, one);
    }
  }

  void feeder() {
    for (const ConductorEstimate& one : section_.conductors) {
      if (one.stands_out) add("feeder joint", by_size(one), one);
    }
  }

  void branch() {
    for (const ConductorEstimate& one : section_.conductors) {
      if (!one.stands_out) continue;
      const bool shared = is_neutral(one) && section_.multiwire;
      if (shared) {
        add(section_.from_panel ? "multiwire neutral" : "multiwire neutral at a device",
            by_size(one), one);
        continue;
      }
      add("branch joint", by_size(one), one);
      if (is_neutral(one)) {
        add("two-wire neutral", one.ohms > kAsGoodAsOpenOhms ? kDecisive + kStrong : kWeak, one);
      }
    }
  }

  const SectionEstimate& section_;
  Clues clues_;
};

}  // namespace

Clues clues_of_resistances(const Visit& visit) {
  Clues all;
  for (const SectionEstimate& section : visit.estimation.sections) {
    for (Clue& clue : ResistancesFinder(section).all()) all.push_back(std::move(clue));
  }
  return all;
}

}  // namespace evenleg
