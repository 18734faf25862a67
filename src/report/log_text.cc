#include "evenleg/report/log_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/percent.h"
#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/log_words.h"

namespace evenleg {
namespace {

constexpr std::size_t kEventsUnlessAll = 10;
constexpr std::size_t kHoursUnlessAll = 24;

std::string signed_text(double value, int decimals) {
  return (value < 0 ? "−" : "+") + fixed(std::abs(value), decimals);
}

std::string share(std::int64_t part, std::int64_t all) {
  return fmt::format("{} ({} %)", part,
                     fixed(kPercent * static_cast<double>(part) / static_cast<double>(all), 0));
}

std::string basis(const LogView& view) {
  const LogResult& log = view.log;
  std::string text = fmt::format(
      "{} from {} to {}, a sample each {}. {} {} to {} V, mean {} V; {} {} to {} V, mean {} V.",
      counted(static_cast<std::size_t>(log.rows), "row"), when(log, log.first), when(log, log.last),
      long_text(log.step_seconds), view.system.legs[0].name, fixed(log.least[0], 1),
      fixed(log.most[0], 1), fixed(log.mean[0], 1), view.system.legs[1].name,
      fixed(log.least[1], 1), fixed(log.most[1], 1), fixed(log.mean[1], 1));
  if (log.gaps > 0) {
    text += fmt::format(
        " {}, {} in all; the longest {} from {}.",
        counted(static_cast<std::size_t>(log.gaps), "gap"), long_text(log.gap_seconds),
        long_text(
            std::max_element(log.longest_gaps.begin(), log.longest_gaps.end(),
                             [](const LogGap& a, const LogGap& b) { return a.seconds < b.seconds; })
                ->seconds),
        when(log, std::max_element(
                      log.longest_gaps.begin(), log.longest_gaps.end(),
                      [](const LogGap& a, const LogGap& b) { return a.seconds < b.seconds; })
                      ->start));
  }
  if (log.bad_rows > 0) {
    text += fmt::format(" {} left out; the first is line {}: {}.",
                        counted(static_cast<std::size_t>(log.bad_rows), "row was", "rows were"),
                        log.first_bad_line, log.first_bad_why);
  }
  if (log.clock_back > 0) {
    text += fmt::format(
        " The clock went back {}, first at {}, as at the end of daylight saving "
        "time; the order of rows was kept.",
        log.clock_back == 1 ? "once" : fmt::format("{} times", log.clock_back),
        when(log, log.clock_back_at));
  }
  if (log.zones > 1) {
    text += fmt::format(" Its stamps have {} offsets from UTC; hours are those of each stamp.",
                        log.zones);
  }
  if (!log.unused_columns.empty()) {
    text += fmt::format(" Columns not used: {}.", listed(log.unused_columns));
  }
  return paragraph(text);
}

std::string meaning(double ratio, double cosine) {
  constexpr double kApart = 0.5, kTogether = 0.5, kAlone = 0.3;
  if (ratio < kApart * cosine) {
    return "as one falls the other rises: consistent with resistance in the neutral upstream of "
           "the "
           "recorder";
  }
  if (ratio > kTogether) {
    return "both move together: consistent with the supply, its transformer or its line";
  }
  if (std::abs(ratio) < kAlone) {
    return "one leg moves by itself: what loads do to a service whose neutral is sound, or a loose "
           "hot where the moves are large";
  }
  return "no one way of moving prevails";
}

std::string swings(const LogView& view) {
  const LogResult& log = view.log;
  if (!log.ratio) {
    return "\n" + paragraph(
                      "The legs hardly moved from sample to sample: too few swings to tell how "
                      "they go together.");
  }
  const std::int64_t all = log.swings.all();
  return "\n" +
         paragraph(fmt::format(
             "Swings from sample to sample: {} in all; legs apart {}, one leg {}, both "
             "together {}. For each volt that the leg in the lead moved, the other moved {} V "
             "(median; half of all between {} and {}): {}. Root mean square of the opposing "
             "part {} V, of the common part {} V.",
             all, share(log.swings.apart, all), share(log.swings.one_leg, all),
             share(log.swings.together, all), signed_text(*log.ratio, 2),
             signed_text(log.ratio_quartiles[0], 2), signed_text(log.ratio_quartiles[1], 2),
             meaning(*log.ratio, log.cosine), fixed(log.apart_volts, 2),
             fixed(log.together_volts, 2)));
}

std::string events(const LogView& view) {
  const LogResult& log = view.log;
  if (log.events.all() == 0) {
    return heading("Events") +
           paragraph(
               "No leg went further than 2.5 % of nominal from its mean of the last minutes.");
  }
  std::vector<LogEvent> deepest = log.deepest;
  if (!view.all && deepest.size() > kEventsUnlessAll) {
    std::stable_sort(deepest.begin(), deepest.end(),
                     [](const LogEvent& a, const LogEvent& b) { return a.depth() > b.depth(); });
    deepest.resize(kEventsUnlessAll);
    std::sort(deepest.begin(), deepest.end(),
              [](const LogEvent& a, const LogEvent& b) { return a.start < b.start; });
  }
  TextTable table({{"Start", Align::Left},
                   {"Length", Align::Right},
                   {view.system.legs[0].name + ", V", Align::Right},
                   {view.system.legs[1].name + ", V", Align::Right},
                   {"Legs moved", Align::Left}});
  for (const LogEvent& event : deepest) {
    table.add({when(log, event.start), long_text(event.seconds), signed_text(event.volts[0], 1),
               signed_text(event.volts[1], 1), std::string(name_of(event.kind))});
  }
  std::string text = heading("Events");
  text += paragraph(fmt::format(
      "{} in which a leg went further than 2.5 % of nominal from its mean of the last minutes: "
      "legs "
      "apart {}, one leg {}, together {}. Below 90 % of nominal: {}; above 110 %: {} (thresholds "
      "usual in IEC 61000-4-30 and IEEE 1159, from memory).{}",
      log.events.all(), log.events.apart, log.events.one_leg, log.events.together, log.dips,
      log.swells,
      static_cast<std::size_t>(log.events.all()) > deepest.size() ? " The deepest:" : ""));
  return text + "\n" + table.text();
}

std::string hours(const LogView& view) {
  const LogResult& log = view.log;
  std::vector<const LogHour*> told;
  for (const LogHour& hour : log.hours) {
    if (hour.ohms || hour.ratio) told.push_back(&hour);
  }
  std::string text;
  if (log.ohms) {
    text +=
        paragraph(fmt::format("From all changes of current: L1 {} Ω, L2 {} Ω, neutral {} ± {} Ω "
                              "({}), upstream of the recorder.",
                              fixed(log.ohms->r1, 3), fixed(log.ohms->r2, 3),
                              fixed(log.ohms->rn, 3), fixed(log.ohms->rn_error, 4),
                              counted(static_cast<std::size_t>(log.ohms->changes), "change")));
  } else if (log.third_leg) {
    text += paragraph(
        "The neutral's resistance is not told: its current is that of three legs, and "
        "the log has two.");
  } else if (log.has_amps) {
    text += paragraph("The currents change too little, or always together, to tell the neutral.");
  }
  if (told.empty()) return text.empty() ? "" : heading("Hour by hour") + text;
  const std::size_t left_out =
      !view.all && told.size() > kHoursUnlessAll ? told.size() - kHoursUnlessAll : 0;
  TextTable table({{"Hour from", Align::Left},
                   {"Other leg per volt", Align::Right},
                   {"Neutral, Ω", Align::Right},
                   {"± Ω", Align::Right},
                   {"Changes", Align::Right}});
  for (std::size_t i = 0; i + left_out < told.size(); ++i) {
    const LogHour& hour = *told[i];
    table.add({when(log, hour.start), hour.ratio ? signed_text(*hour.ratio, 2) : "-",
               hour.ohms ? fixed(hour.ohms->rn, 3) : "-",
               hour.ohms ? fixed(hour.ohms->rn_error, 4) : "-",
               hour.ohms ? std::to_string(hour.ohms->changes) : "-"});
  }
  text = heading("Hour by hour") + text + (text.empty() ? "" : "\n") + table.text();
  if (left_out > 0) {
    text += paragraph(fmt::format("and {} more (--all shows them).", counted(left_out, "hour")));
  }
  return text;
}

std::string heavier_text(const LogView& view, const std::array<double, 2>& values,
                         const char* unit) {
  const bool first = values[0] >= values[1];
  return fmt::format("{} by {} {}", view.system.legs[first ? 0 : 1].name,
                     fixed(std::abs(values[0] - values[1]), 1), unit);
}

// Amperes where they were recorded, volts always.
std::string balance(const LogView& view) {
  const LogResult& log = view.log;
  if (!log.has_clock) return "";
  const std::string one = view.system.legs[0].name;
  const std::string two = view.system.legs[1].name;
  std::vector<Column> columns{{"Hour of day", Align::Left}};
  if (log.has_amps) {
    columns.insert(
        columns.end(),
        {{one + ", A", Align::Right}, {two + ", A", Align::Right}, {"Heavier", Align::Left}});
  }
  columns.insert(
      columns.end(),
      {{one + ", V", Align::Right}, {two + ", V", Align::Right}, {"Higher", Align::Left}});
  TextTable table(columns);
  for (std::size_t h = 0; h < log.by_hour.size(); ++h) {
    const HourOfDay& hour = log.by_hour[h];
    if (hour.samples == 0) continue;
    std::vector<std::string> cells{fmt::format("{:02}", h)};
    if (log.has_amps && hour.amps_samples == 0) cells.insert(cells.end(), 3, "-");
    if (hour.amps_samples > 0) {
      cells.push_back(fixed(hour.mean_amps[0], 1));
      cells.push_back(fixed(hour.mean_amps[1], 1));
      cells.push_back(heavier_text(view, hour.mean_amps, "A"));
    }
    cells.push_back(fixed(hour.mean_volts[0], 1));
    cells.push_back(fixed(hour.mean_volts[1], 1));
    cells.push_back(heavier_text(view, hour.mean_volts, "V"));
    table.add(cells);
  }
  return table.empty() ? "" : heading("Legs by hour of the day, means") + table.text();
}

std::string flicker(const LogView& view) {
  const LogResult& log = view.log;
  std::string text = heading("Flicker of the recorded steps");
  if (!log.flicker) {
    return text + paragraph(fmt::format("A sample each {} is too slow for it; the method asks for "
                                        "steps told apart to about a second.",
                                        long_text(log.step_seconds)));
  }
  if ((*log.flicker)[0].windows == 0) {
    return text + paragraph("No window of ten minutes is at least half filled with samples.");
  }
  for (std::size_t leg = 0; leg < 2; ++leg) {
    const LegFlicker& one = (*log.flicker)[leg];
    text += paragraph(fmt::format(
        "{}: {} of ten minutes, {} with Pst above 1; highest Pst {} from {}.",
        view.system.legs[leg].name, counted(static_cast<std::size_t>(one.windows), "window"),
        one.over_one, fixed(one.highest, 2), when(log, one.highest_at)));
  }
  return text + paragraph(
                    "By the analytical method of IEC 61000-3-3, each step taken to a 230 V lamp "
                    "where the supply is of 120 V. Pst 1 is that standard's limit for equipment "
                    "on 220 to 250 V; no limit of the IEC exists for 120 V. Samples hide what "
                    "happens between them.");
}

}  // namespace

std::string log_text(const LogView& view) {
  return heading("The log " + shortened(view.name, 60)) + basis(view) + swings(view) +
         events(view) + hours(view) + balance(view) + flicker(view);
}

}  // namespace evenleg
