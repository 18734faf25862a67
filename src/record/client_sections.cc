#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/drawing/service.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

// The legs before and after, at the first panel, as found.
std::vector<LegVolts> legs_before_and_after(const Job& job) {
  std::vector<LegVolts> legs;
  if (job.service.curve.empty()) return legs;
  const auto& sound = job.service.curve.front().legs;
  const auto& open = job.service.curve.back().legs;
  for (std::size_t leg = 0; leg < std::min(sound.size(), open.size()); ++leg) {
    legs.push_back({sound[leg].leg, sound[leg].volts.si(), open[leg].volts.si()});
  }
  return legs;
}

// The things that an open neutral of the supply would hit hardest, as they are called.
std::vector<Drawing> things_at_worst(Fill& fill) {
  std::vector<VoltsSpan> spans;
  for (const LoadExtremes& row : fill.job.audit.open_neutral.front().loads) {
    const auto limit = fill.job.withstands(row.load);
    if (!limit || !row.highest || !row.lowest) continue;
    spans.push_back({fill.load(row.load).name, "", std::nullopt, row.lowest->value.si(),
                     row.highest->value.si(), *limit});
  }
  std::stable_sort(spans.begin(), spans.end(), [](const VoltsSpan& a, const VoltsSpan& b) {
    return a.highest / *a.withstands > b.highest / *b.withstands;
  });
  constexpr std::size_t kMost = 6;
  spans.resize(std::min(kMost, spans.size()));
  return draw_volts_spans(spans, std::nullopt, "things-at-worst",
                          "What things could get at the very worst mix");
}

const char* parts_of(const SupplySystem& system) {
  switch (system.legs.size()) {
    case 2:
      return "two halves";
    case 3:
      return "three parts";
    default:
      return "one part";
  }
}

}  // namespace

Section plain_words_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"plain-words", "What this is about", {}, false};
  const bool shared = job.system.legs.size() > 1;
  std::vector<std::string> leg_names;
  for (const Leg& leg : job.system.legs) leg_names.push_back(leg.name);
  std::string text;
  if (shared) {
    text = fmt::format(
        "Electricity comes into the house in {} ({}) that share one wire back, the neutral. That "
        "wire keeps each of them at about {} volts. Where it makes poor contact or parts, one gets "
        "too much and another too little, depending on what is switched on: lights go bright or "
        "dim, "
        "and things that are plugged in can be damaged or overheat.",
        parts_of(job.system), listed(leg_names), figure(job.system.nominal_volts));
  } else {
    text =
        "Electricity comes into the house on one wire and goes back on another, the neutral. "
        "Where the neutral parts, things stop working, and metal that seems dead can give a "
        "shock.";
  }
  section.blocks.emplace_back(Paragraph{std::move(text)});
  if (const std::string words = visit_field(job.house, "complaint"); !words.empty()) {
    section.blocks.emplace_back(Paragraph{fmt::format("You told us: “{}”", words)});
  }
  if (std::vector<LegVolts> legs = legs_before_and_after(job); shared && !legs.empty()) {
    section.blocks.emplace_back(draw_legs_before_and_after(legs, job.system.nominal_volts));
  }
  if (!job.audit.open_neutral.empty()) {
    for (Drawing& drawing : things_at_worst(fill)) section.blocks.emplace_back(std::move(drawing));
  }
  return section;
}

Section what_now_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"what-now", "What comes next", {}, false};
  Bullets steps;
  steps.numbered = true;
  if (!neutral_pattern(job).empty() || !neutral_evidence(job).empty()) {
    steps.items.push_back(
        "Now: the utility and a licensed electrician look at the neutral. Say on the telephone "
        "that "
        "it may be failing.");
  }
  // In words of our own: what the record says of it is for the trade.
  for (const char* urgency : {"now", "soon", "when convenient"}) {
    for (const SiteFinding& finding : job.house.findings) {
      if (finding.urgency != urgency) continue;
      steps.items.push_back(fmt::format(
          "{}: have {} looked at; the electrician's record says what for.", capitalised(urgency),
          finding.where ? in_quotes(*finding.where) : "what was found on site"));
    }
  }
  if (const std::string text = visit_field(job.house, "handed_over"); !text.empty()) {
    steps.items.push_back("How it was left: " + text);
  }
  if (steps.items.empty()) {
    steps.items.push_back("Keep this page, and show it to a licensed electrician.");
  }
  section.blocks.emplace_back(std::move(steps));
  return section;
}

Section whom_to_call_section(Fill& fill) {
  const House& house = fill.job.house;
  Section section{"whom-to-call", "Whom to call", {}, false};
  Fields fields{{{"Smoke, fire or a shock", "the emergency services, from outside the house"},
                 {"The utility's emergency line", visit_field(house, "utility")},
                 {"A licensed electrician", visit_field(house, "by")}}};
  if (const std::string told = visit_field(house, "utility_contact"); !told.empty()) {
    fields.rows.emplace_back("Told to the utility so far", told);
  }
  if (const std::string date = visit_field(house, "date"); !date.empty()) {
    fields.rows.emplace_back("Date of the visit", date);
  }
  section.blocks.emplace_back(std::move(fields));
  return section;
}

}  // namespace evenleg
