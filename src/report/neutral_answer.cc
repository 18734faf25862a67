// What one neutral in depth says before its tables: the first limits, the margin, what a meter
// across such a joint would read, and its heat.
#include <algorithm>

#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"
#include "src/report/neutral_sections.h"

namespace evenleg {
namespace {

std::string with_added(const NeutralView& view, Ohms added) {
  return fmt::format("with {} Ω added in {}", figure(added.si()), neutral_at(view.depth.place));
}

std::string named(const NeutralView& view, int load) {
  constexpr int kMostColumns = 40;  // of an outlet's name in a sentence
  return fmt::format("{} ({})", in_quotes(view.load(load).name),
                     shortened(view.load(load).at, kMostColumns));
}

std::string margin(const NeutralView& view, Ohms added) {
  if (view.depth.sound <= ohms(0)) {
    return " The conductor's own resistance is 0 Ω as described, so there is no margin to tell.";
  }
  return fmt::format(" {} Ω is {} times the conductor's own {} Ω.", figure(added.si()),
                     figure(added / view.depth.sound), figure(view.depth.sound.si()));
}

// What is known of a limit that a state was found to reach.
std::string proof_of(const NeutralView& view, const NeutralLimit& limit, std::string_view none) {
  if (limit.ohms <= ohms(0)) return "";
  if (!view.depth.certified || !limit.proven) {
    return " Found, not proven: a credible state may get there with less.";
  }
  return fmt::format(
      " Proven at that resistance: {}. Smaller ones were searched only at the values listed below.",
      none);
}

std::string source_of_high(const NeutralView& view, int load, SourceList& sources) {
  if (view.load(load).max_volts) return ", as described";
  const LoadKind* kind = view.kind(load);
  const std::string mark = kind == nullptr ? "" : sources.mark(kind->withstands_source);
  return mark.empty() ? "" : " " + mark;
}

std::string source_of_low(const NeutralView& view, int load, SourceList& sources) {
  const LoadKind* kind = view.kind(load);
  const std::string mark = kind == nullptr ? "" : sources.mark(kind->law.limits_source);
  return mark.empty() ? "" : " " + mark;
}

std::string how_far_none(bool proven) {
  return proven ? " Proven at each resistance listed below; nothing is proven in between."
                : " Found so, not proven: a credible state may go further.";
}

std::string high_sentence(const NeutralView& view, SourceList& sources) {
  const std::optional<NeutralLimit>& limit = view.depth.high;
  if (!limit) {
    return "At no resistance looked at, from sound to open, is a credible state found that takes a "
           "load past what it withstands." +
           how_far_none(view.depth.none_high_proven);
  }
  const std::string load = named(view, limit->load);
  const std::string volts = figure(limit->volts.si());
  const std::string source = source_of_high(view, limit->load, sources);
  const std::string takes = what_it_takes(view.house, view.tables, limit->on);
  if (limit->ohms <= ohms(0)) {
    return fmt::format(
        "Too high: already with {} sound, {} could see more than the {} V that it "
        "withstands{}. {}",
        neutral_at(view.depth.place), load, volts, source, takes);
  }
  return fmt::format(
      "Too high: {}, the first load, {}, could reach the {} V that it withstands{}. "
      "{}{}{}",
      with_added(view, limit->ohms), load, volts, source, takes, margin(view, limit->ohms),
      proof_of(view, *limit,
               "no credible state takes a load more than 0.01 V past what it "
               "withstands"));
}

// A load beyond that drops out or stalls by its law; entered in ohms it has none.
bool any_low_law(const NeutralView& view) {
  const std::vector<int> loads = loads_beyond(view.depth);
  return std::any_of(loads.begin(), loads.end(), [&](int load) {
    const LoadKind* kind = view.kind(load);
    return kind != nullptr && !view.load(load).ohms &&
           (kind->law.off_below || kind->law.stalls_below);
  });
}

// Where some load is too high already, the first of the others.
std::string next_sentence(const NeutralView& view, SourceList& sources) {
  const std::optional<NeutralLimit>& limit = view.depth.next_high;
  if (!limit) return "";
  return fmt::format(
      "Of the loads that are within their limits then, the first, {}, could reach the "
      "{} V that it withstands{} {}. {}{}{}",
      named(view, limit->load), figure(limit->volts.si()),
      source_of_high(view, limit->load, sources), with_added(view, limit->ohms),
      what_it_takes(view.house, view.tables, limit->on), margin(view, limit->ohms),
      proof_of(view, *limit,
               "no credible state takes one of these more than 0.01 V past what it "
               "withstands"));
}

std::string low_sentence(const NeutralView& view, SourceList& sources) {
  const std::optional<NeutralLimit>& limit = view.depth.low;
  if (!limit && !any_low_law(view)) return "";
  if (!limit) {
    return "At no resistance looked at is a credible state found in which a load has too few volts "
           "to run." +
           how_far_none(view.depth.none_low_proven);
  }
  const LoadKind* kind = view.kind(limit->load);
  const bool stalls = kind != nullptr && kind->law.stalls_below && !kind->law.off_below;
  const std::string below =
      fmt::format("{} V below which it {}{}", figure(limit->volts.si()),
                  stalls ? "stalls" : "drops out", source_of_low(view, limit->load, sources));
  const std::string load = named(view, limit->load);
  const std::string takes = what_it_takes(view.house, view.tables, limit->on);
  if (limit->ohms <= ohms(0)) {
    return fmt::format("Too low: already with {} sound, {} could see fewer than the {}. {}",
                       neutral_at(view.depth.place), load, below, takes);
  }
  return fmt::format("Too low: {}, the first load, {}, could fall to the {}. {}{}{}",
                     with_added(view, limit->ohms), load, below, takes, margin(view, limit->ohms),
                     proof_of(view, *limit,
                              "no credible state leaves a load more than 0.01 V below what its law "
                              "runs on"));
}

const NeutralPoint* point_at(const NeutralView& view, const std::optional<NeutralLimit>& limit) {
  const auto& curve = view.depth.curve;
  const auto at = std::find_if(curve.begin(), curve.end(),
                               [&](const NeutralPoint& point) { return is_limit(limit, point); });
  return at == curve.end() ? nullptr : &*at;
}

// What a meter across that joint would read, and its heat, as found and at worst: at the first of
// the limits that it takes a joint to reach.
std::string joint_sentence(const NeutralView& view) {
  const bool high = view.depth.high && view.depth.high->ohms > ohms(0);
  const NeutralPoint* point = point_at(view, high ? view.depth.high : view.depth.low);
  if (point == nullptr || point->added <= ohms(0) || !std::isfinite(point->added.si())) return "";
  std::string text = fmt::format(
      "As found, a joint of {} Ω would carry {} A: a meter across it would read {} V, and {} W "
      "would heat it.",
      figure(point->added.si()), shown(point->amps.si()), shown((point->amps * point->added).si()),
      shown(point->heat.si()));
  if (point->highest_heat) {
    const bool certain = is_certain(view.depth.certified, point->highest_heat);
    text += fmt::format(" Over the credible states {}{} W{} could. {}", certain ? "at most " : "",
                        shown(point->highest_heat->value.si()), certain ? "" : " or more",
                        what_it_takes(view.house, view.tables, point->highest_heat->on));
  }
  return text + " Such a reading is consistent with such a joint; it shows no cause.";
}

std::string hottest_sentence(const NeutralView& view) {
  const NeutralPoint* hottest = nullptr;
  for (const NeutralPoint& point : view.depth.curve) {
    if (!point.highest_heat) continue;
    if (hottest == nullptr || point.highest_heat->value > hottest->highest_heat->value) {
      hottest = &point;
    }
  }
  if (hottest == nullptr) return "";
  const bool certain = is_certain(view.depth.certified, hottest->highest_heat);
  return fmt::format(
      "Of the resistances listed below, {} Ω could heat the joint most: {} W{}. A joint that adds "
      "less than the limits above is not thereby in order: it heats all the same.",
      figure(hottest->added.si()), shown(hottest->highest_heat->value.si()),
      certain ? "" : " or more");
}

// What is on as found goes beyond what any credible state does: by load, or by heat.
bool beyond_credible(const NeutralPoint& point) {
  constexpr double kSame = 1e-6;  // per unit: rounding between two ways to the same state
  if (point.highest_heat && point.heat > (1 + kSame) * point.highest_heat->bound) return true;
  return std::any_of(point.loads.begin(), point.loads.end(), [&](const LoadExtremes& row) {
    if (!row.as_found) return false;
    if (!row.highest || !row.lowest) return true;
    return *row.as_found > (1 + kSame) * row.highest->bound + volts(kSame) ||
           *row.as_found < (1 - kSame) * row.lowest->bound - volts(kSame);
  });
}

std::string as_found_sentence(const NeutralView& view) {
  const auto& curve = view.depth.curve;
  const bool beyond = std::any_of(curve.begin(), curve.end(), beyond_credible);
  if (!beyond) return "";
  return "What is on as found is no credible state: some figures as found go beyond those over the "
         "credible states, which leave it out. `evenleg audit` says why.";
}

std::string device_sentence(const NeutralView& view) {
  if (!view.depth.protected_by) return "";
  return "The neutral-loss device of " + in_quotes(*view.depth.protected_by) +
         " would open first with it removed; the figures are what it would have to prevent.";
}

}  // namespace

std::string answer_section(const NeutralView& view, SourceList& sources) {
  std::string text = "\n";
  const auto can_run = [](const LoadExtremes& row) { return row.highest.has_value(); };
  const auto& curve = view.depth.curve;
  if (curve.empty() ||
      std::none_of(curve.back().loads.begin(), curve.back().loads.end(), can_run)) {
    text += paragraph("No load that can run hangs on the neutral beyond it.");
    const std::string as_found = as_found_sentence(view);
    return as_found.empty() ? text : text + paragraph(as_found);
  }
  for (const std::string& sentence :
       {high_sentence(view, sources), next_sentence(view, sources), low_sentence(view, sources),
        device_sentence(view), joint_sentence(view), hottest_sentence(view),
        as_found_sentence(view)}) {
    if (!sentence.empty()) text += paragraph(sentence);
  }
  return text;
}

}  // namespace evenleg
