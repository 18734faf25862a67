#include <nlohmann/json.hpp>

#include "evenleg/report/log_text.h"
#include "src/report/audit_json_parts.h"
#include "src/report/log_words.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json pair(const std::array<double, 2>& values) { return {number(values[0]), number(values[1])}; }

Json counts(const SwingCounts& counts) {
  return {{"apart", counts.apart}, {"one_leg", counts.one_leg}, {"together", counts.together}};
}

Json ohms(const std::optional<OhmsEstimate>& one) {
  if (!one) return nullptr;
  return {{"l1", number(one->r1)},
          {"l2", number(one->r2)},
          {"neutral", number(one->rn)},
          {"neutral_standard_error", number(one->rn_error)},
          {"changes", one->changes}};
}

Json events(const LogResult& log) {
  Json rows = Json::array();
  for (const LogEvent& event : log.deepest) {
    rows.push_back({{"start", when(log, event.start)},
                    {"seconds", number(event.seconds)},
                    {"volts", pair(event.volts)},
                    {"legs", name_of(event.kind)}});
  }
  return rows;
}

Json hours(const LogResult& log) {
  Json rows = Json::array();
  for (const LogHour& hour : log.hours) {
    rows.push_back({{"start", when(log, hour.start)},
                    {"samples", hour.samples},
                    {"mean_volts", pair(hour.mean_volts)},
                    {"other_leg_per_volt", number(hour.ratio)},
                    {"ohms", ohms(hour.ohms)}});
  }
  return rows;
}

Json by_hour(const LogResult& log) {
  Json rows = Json::array();
  if (!log.has_clock) return rows;
  for (std::size_t h = 0; h < log.by_hour.size(); ++h) {
    const HourOfDay& hour = log.by_hour[h];
    if (hour.samples == 0) continue;
    rows.push_back({{"hour", h},
                    {"samples", hour.samples},
                    {"mean_volts", pair(hour.mean_volts)},
                    {"mean_amps", hour.amps_samples > 0 ? pair(hour.mean_amps) : Json(nullptr)}});
  }
  return rows;
}

Json flicker(const LogResult& log) {
  if (!log.flicker) return nullptr;
  Json rows = Json::array();
  for (const LegFlicker& leg : *log.flicker) {
    rows.push_back(
        {{"windows", leg.windows},
         {"over_one", leg.over_one},
         {"highest_pst", leg.windows > 0 ? number(leg.highest) : Json(nullptr)},
         {"highest_at", leg.highest > 0 ? Json(when(log, leg.highest_at)) : Json(nullptr)}});
  }
  return rows;
}

Json gaps(const LogResult& log) {
  Json rows = Json::array();
  for (const LogGap& gap : log.longest_gaps) {
    rows.push_back({{"start", when(log, gap.start)}, {"seconds", number(gap.seconds)}});
  }
  return rows;
}

}  // namespace

Json log_json(const LogView& view) {
  const LogResult& log = view.log;
  return {
      {"name", view.name},
      {"rows", log.rows},
      {"bad_rows", log.bad_rows},
      {"first_bad_line", log.bad_rows > 0 ? Json(log.first_bad_line) : Json(nullptr)},
      {"first", when(log, log.first)},
      {"last", when(log, log.last)},
      {"step_seconds", number(log.step_seconds)},
      {"gaps", log.gaps},
      {"longest_gaps", gaps(log)},
      {"clock_back", log.clock_back},
      {"volts", {{"least", pair(log.least)}, {"most", pair(log.most)}, {"mean", pair(log.mean)}}},
      {"swings", counts(log.swings)},
      {"other_leg_per_volt", number(log.ratio)},
      {"opposing_volts", number(log.apart_volts)},
      {"common_volts", number(log.together_volts)},
      {"events", counts(log.events)},
      {"below_90_percent", log.dips},
      {"above_110_percent", log.swells},
      {"deepest_events", events(log)},
      {"ohms", ohms(log.ohms)},
      {"hours", hours(log)},
      {"hours_not_listed", log.hours_not_listed},
      {"by_hour_of_day", by_hour(log)},
      {"flicker", flicker(log)},
      {"worst_hour", log.worst ? Json(when(log, log.worst->start)) : Json(nullptr)}};
}

}  // namespace evenleg
