#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/drawing/legs.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

struct ReadingColumn {
  const char* heading;
  const char* unit;
  std::optional<double> Reading::*member;
};

const std::vector<ReadingColumn>& reading_columns() {
  static const std::vector<ReadingColumn> kColumns{
      {"L1-N", "V", &Reading::l1_n_volts},
      {"L2-N", "V", &Reading::l2_n_volts},
      {"L3-N", "V", &Reading::l3_n_volts},
      {"L1-L2", "V", &Reading::l1_l2_volts},
      {"L2-L3", "V", &Reading::l2_l3_volts},
      {"L3-L1", "V", &Reading::l3_l1_volts},
      {"L1", "A", &Reading::l1_amps},
      {"L2", "A", &Reading::l2_amps},
      {"L3", "A", &Reading::l3_amps},
      {"N", "A", &Reading::neutral_amps},
      {"electrode", "A", &Reading::electrode_amps},
      {"water pipe", "A", &Reading::water_pipe_amps},
      {"hot and neutral together", "A", &Reading::together_amps},
      {"N to ground", "V", &Reading::neutral_ground_volts},
      {"L1 to ground", "V", &Reading::l1_ground_volts},
      {"L2 to ground", "V", &Reading::l2_ground_volts},
      {"L3 to ground", "V", &Reading::l3_ground_volts},
      {"across the joint", "V", &Reading::joint_volts}};
  return kColumns;
}

std::string state_of(const Reading& reading) {
  std::string text = reading.label.value_or("");
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : "; ") + more; };
  if (reading.main_off) add("main off");
  if (!reading.on.empty()) add("on: " + listed(reading.on));
  return text;
}

std::string time_of(const Reading& reading) {
  std::string time = reading.time.value_or("");
  std::replace(time.begin(), time.end(), 'T', ' ');
  return time;
}

template <class Get>
bool any_has(const House& house, Get&& get) {
  return std::any_of(house.readings.begin(), house.readings.end(),
                     [&](const Reading& reading) { return !get(reading).empty(); });
}

Sheet readings_sheet(const House& house) {
  Sheet sheet{"Readings", "What the instruments showed", {{"#", "", true}}, {}, {}, 0};
  sheet.columns.push_back({"at", "", false});
  sheet.columns.push_back({"load state", "", false});
  const bool times = any_has(house, time_of);
  const auto instrument = [](const Reading& reading) { return reading.instrument.value_or(""); };
  const bool instruments = any_has(house, instrument);
  if (times) sheet.columns.push_back({"time", "", false});
  std::vector<const ReadingColumn*> used;
  for (const ReadingColumn& one : reading_columns()) {
    const bool any =
        std::any_of(house.readings.begin(), house.readings.end(),
                    [&](const Reading& reading) { return (reading.*one.member).has_value(); });
    if (!any) continue;
    used.push_back(&one);
    sheet.columns.push_back({one.heading, one.unit, true});
  }
  for (std::size_t r = 0; r < house.readings.size(); ++r) {
    const Reading& reading = house.readings[r];
    std::vector<Cell> row{count(r + 1), reading.at, state_of(reading)};
    if (times) row.emplace_back(time_of(reading));
    for (const ReadingColumn* one : used) row.push_back(as_read(reading.*one->member));
    sheet.rows.push_back(std::move(row));
  }
  if (!instruments) return sheet;
  std::vector<std::string> named;
  for (const Reading& reading : house.readings) {
    if (reading.instrument && std::count(named.begin(), named.end(), *reading.instrument) == 0) {
      named.push_back(*reading.instrument);
    }
  }
  sheet.notes.push_back(fmt::format("Read with: {}.", fmt::join(named, "; ")));
  return sheet;
}

Sheet conductors_sheet(const Job& job) {
  Sheet sheet{"Conductors",
              "Resistance of each conductor by the readings",
              {{"from", "", false},
               {"to", "", false},
               {"conductor", "", false},
               {"measured", "ohms", true},
               {"standard error", "ohms", true},
               {"expected of the run", "ohms", true},
               {"transformer", "ohms", true},
               {"excess", "ohms", true},
               {"note", "", false}},
              {},
              {},
              0};
  const auto ohms = [](const std::optional<double>& value) {
    return value ? Cell{fitted_ohms(*value), *value} : Cell{};
  };
  for (const SectionEstimate& section : job.diagnosis.estimation.sections) {
    for (const ConductorEstimate& one : section.conductors) {
      const bool told = one.expected_ohms.has_value();
      std::string note = one.stands_out ? "stands out" : "";
      if (one.stands_out && !told && one.excess_ohms) {
        note += fmt::format(", {} ohms more than the others", fitted_ohms(*one.excess_ohms));
      }
      sheet.rows.push_back({section.from.empty() ? "source" : section.from, section.to,
                            one.conductor, ohms(one.ohms), ohms(one.standard_error),
                            ohms(one.expected_ohms),
                            one.transformer_ohms == 0 ? Cell{} : ohms(one.transformer_ohms),
                            told ? ohms(one.excess_ohms) : Cell{}, std::move(note)});
    }
  }
  return sheet;
}

Statement pattern_statement(const PatternMatch& pattern, std::size_t rank) {
  Statement statement{fmt::format("{}. {}", rank, capitalised(pattern.title)), "", {}};
  statement.parts.emplace_back("People then see", pattern.seen);
  if (!pattern.for_it.empty()) {
    statement.parts.emplace_back("Speaks for it",
                                 fmt::format("{}", fmt::join(pattern.for_it, "; ")));
  }
  if (!pattern.against_it.empty()) {
    statement.parts.emplace_back("Speaks against it",
                                 fmt::format("{}", fmt::join(pattern.against_it, "; ")));
  }
  return statement;
}

std::vector<std::string> further_sentences(const Job& job) {
  std::vector<std::string> sentences;
  const Diagnosis& all = job.diagnosis;
  for (const JointReading& joint : all.joints) {
    std::string text =
        fmt::format("Reading {}: {} V across the joint", joint.reading + 1, figure(joint.volts));
    if (joint.amps) text += fmt::format(" with {} A through it", figure(*joint.amps));
    if (joint.ohms) text += fmt::format(", {} ohms", figure(*joint.ohms));
    if (joint.watts) text += fmt::format(", {} W of heat", figure(*joint.watts));
    sentences.push_back(text + ".");
  }
  sentences.insert(sentences.end(), all.beside.begin(), all.beside.end());
  sentences.insert(sentences.end(), all.traps.begin(), all.traps.end());
  return sentences;
}

}  // namespace

Section readings_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"readings", "Readings", {}, false};
  if (job.house.readings.empty()) {
    section.blocks.emplace_back(Paragraph{"No reading is held in this house."});
    return section;
  }
  section.blocks.emplace_back(readings_sheet(job.house));
  if (auto drawing = draw_readings(job.house, job.system, job.diagnosis.estimation)) {
    section.blocks.emplace_back(std::move(*drawing));
  }
  return section;
}

Section conductors_section(Fill& fill) {
  const Job& job = fill.job;
  const Diagnosis& all = job.diagnosis;
  Section section{"support", "What the readings support", {}, false};
  const bool nothing = job.house.readings.empty() && all.patterns.empty();
  if (nothing && fill.options.sections.empty()) return section;
  section.blocks.emplace_back(Paragraph{
      capitalised(all.verdict) +
      (nothing ? "."
               : ". Readings support a pattern; they do not name its cause, and they do not rule "
                 "out what they do not show.")});
  if (all.estimation.values_used > 0) {
    Sheet sheet = conductors_sheet(job);
    const bool any_source = !job.tables.conductors.empty();
    sheet.notes.push_back(fmt::format(
        "By least squares from {} in {}; they stand {} V from the fitted circuit (root mean "
        "square). Expected: the run's own ohms, or those of the conductor table{}. Excess: "
        "measured less run and transformer.",
        counted(static_cast<std::size_t>(all.estimation.values_used), "voltage"),
        counted(static_cast<std::size_t>(all.estimation.readings_used), "reading"),
        fixed(all.estimation.residual_volts, 2),
        any_source ? marked(fill.sources, job.tables.conductors.front().resistance_source) : ""));
    section.blocks.emplace_back(std::move(sheet));
  }
  constexpr std::size_t kMostPatterns = 3;
  for (std::size_t p = 0; p < std::min(kMostPatterns, all.patterns.size()); ++p) {
    section.blocks.emplace_back(pattern_statement(all.patterns[p], p + 1));
  }
  if (!all.patterns.empty()) {
    section.blocks.emplace_back(Paragraph{fmt::format(
        "The grid of conditions is common practice{}; what each clue weighs is judgement.",
        marked(fill.sources, job.tables.symptoms.source))});
  }
  if (all.next) {
    section.blocks.emplace_back(Paragraph{fmt::format(
        "The next reading: {}. With {}: {}. With {}: {}.", all.next->take, all.patterns[0].title,
        all.next->first_shows, all.patterns[1].title, all.next->second_shows)});
  }
  if (std::vector<std::string> more = further_sentences(job); !more.empty()) {
    section.blocks.emplace_back(Bullets{std::move(more), false});
  }
  return section;
}

Section log_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"log", "What a recorder showed", {}, false};
  if (!job.log && fill.options.sections.empty()) return section;
  if (!job.log) {
    section.blocks.emplace_back(
        Paragraph{"No recorder's log was read with this record (--log FILE.csv)."});
    return section;
  }
  const LogResult& log = *job.log;
  section.blocks.emplace_back(Paragraph{fmt::format(
      "The log {}: {} rows, {} swings of which the legs moved apart in {}, one alone in {} and "
      "together in {}; {} and {} beyond 90 % and 110 % of nominal.",
      in_quotes(job.log_name), log.rows, log.swings.all(), log.swings.apart, log.swings.one_leg,
      log.swings.together, counted(static_cast<std::size_t>(log.dips), "dip"),
      counted(static_cast<std::size_t>(log.swells), "swell"))});
  if (auto drawing = draw_legs_by_hour(job.system, log)) {
    section.blocks.emplace_back(std::move(*drawing));
  }
  return section;
}

}  // namespace evenleg
