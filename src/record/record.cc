#include "evenleg/record/record.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <cstdio>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/report/cautions.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

struct Entry {
  SectionName name;
  Section (*fill)(Fill&);
};

const std::vector<Entry>& catalogue() {
  static const std::vector<Entry> kEntries{
      {{"summary", "what was found, in short, and what is advised first"}, summary_section},
      {{"job", "house, date, people, service"}, job_section},
      {{"complaint", "the occupant's words"}, complaint_section},
      {{"readings", "what instruments showed, measured against expected"}, readings_section},
      {{"support", "what the readings support"}, conductors_section},
      {{"log", "legs by hour of day from a recorder's log"}, log_section},
      {{"findings", "findings with action taken and advised"}, findings_section},
      {{"inspection-limits", "limits of an inspection"}, inspection_limits_section},
      {{"observations", "observation, implication, recommendation"}, observations_section},
      {{"not-determined", "what was not determined, and why"}, not_determined_section},
      {{"service", "the legs and the neutral as found"}, service_section},
      {{"neutrals", "what each neutral carries"}, neutrals_section},
      {{"neutral-ohms", "volts against the ohms of the service neutral"}, neutral_ohms_section},
      {{"multiwires", "each multiwire with its neutral open"}, multiwires_section},
      {{"motor-starts", "what a motor's start does to lights"}, motor_starts_section},
      {{"ranking", "what an open neutral would hit first"}, ranking_section},
      {{"outlets", "every outlet on one scale of volts"}, outlets_section},
      {{"leg-loads", "leg loads by scenario"}, leg_loads_section},
      {{"moves", "the moves that even the legs"}, moves_section},
      {{"panels", "the faces of the panels"}, panels_section},
      {{"schedule", "the panels space by space"}, schedule_section},
      {{"directory", "directory for the panel door"}, directory_section},
      {{"service-calculation", "service load by a stated method"}, service_calculation_section},
      {{"calls", "calls to the utility"}, calls_section},
      {{"hand-over", "work, decisions, hand-over"}, hand_over_section},
      {{"signature", "lines to sign on"}, signature_section},
      {{"attachments", "photos and other files"}, attachments_section},
      {{"plain-words", "what it is about, for a client, with two pictures"}, plain_words_section},
      {{"what-now", "what comes next, for a client"}, what_now_section},
      {{"whom-to-call", "whom to call"}, whom_to_call_section},
      {{"event", "after an event: when, what, whom it concerns"}, event_section},
      {{"exposed", "after an event: what was exposed"}, exposed_section},
      {{"to-test", "after an event: what to have tested"}, to_test_section},
      {{"claim", "after an event: list for a claim"}, claim_section},
      {{"cautions", "what the figures are worth"}, cautions_section},
      {{"loads", "every load as described: the inputs"}, loads_section},
      {{"limits", "limits used, with their sources"}, limits_section},
      {{"sources", "sources of all figures"}, sources_section},
      {{"about", "program, house file, date"}, about_section}};
  return kEntries;
}

struct ReaderEntry {
  Reader reader;
  std::string_view name;
  std::string_view title;
  std::vector<std::string_view> sections;
};

const std::vector<ReaderEntry>& readers() {
  static const std::vector<ReaderEntry> kReaders{
      {Reader::Electrician,
       "electrician",
       "Electrician's record",
       // clang-format off
       {"summary", "job", "complaint", "readings", "support", "findings", "service", "neutral-ohms",
        "neutrals", "multiwires", "ranking", "outlets", "motor-starts", "panels", "log", "calls",
        "hand-over", "signature", "attachments", "cautions", "loads", "limits", "sources", "about"}},
      // clang-format on
      {Reader::Inspector,
       "inspector",
       "Inspector's findings",
       {"summary", "job", "observations", "not-determined", "inspection-limits", "complaint",
        "readings", "neutrals", "outlets", "ranking", "signature", "attachments", "cautions",
        "loads", "limits", "sources", "about"}},
      {Reader::Contractor,
       "contractor",
       "Contractor's plan",
       {"summary", "job", "moves", "leg-loads", "panels", "schedule", "service-calculation",
        "neutrals", "directory", "cautions", "loads", "limits", "sources", "about"}},
      {Reader::Client, "client", "For the client", {"what-now", "whom-to-call", "plain-words"}},
      {Reader::Event,
       "event",
       "After an event",
       {"event", "exposed", "to-test", "claim", "summary", "job", "complaint", "readings",
        "support", "cautions", "loads", "limits", "sources", "about"}}};
  return kReaders;
}

const ReaderEntry& entry_of(Reader reader) {
  return *std::find_if(readers().begin(), readers().end(),
                       [reader](const ReaderEntry& one) { return one.reader == reader; });
}

const Entry& entry_named(const std::string& id) {
  const std::vector<Entry>& all = catalogue();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Entry& one) { return one.name.id == id; });
  if (found != all.end()) return *found;
  std::vector<std::string> known;
  for (const Entry& one : all) known.emplace_back(one.name.id);
  const auto close = nearest(id, known);
  throw Error(ErrorKind::Request, {"--sections", fmt::format("there is no section \"{}\"", id),
                                   close ? fmt::format("perhaps \"{}\"", *close)
                                         : "see `evenleg report --help` for their names"});
}

std::vector<std::string> chosen_sections(const RecordOptions& options) {
  std::vector<std::string> ids;
  for (const std::string& id : options.sections) {  // each once: its drawings have names
    if (std::count(ids.begin(), ids.end(), id) == 0) ids.push_back(id);
  }
  if (!ids.empty()) return ids;
  for (const std::string_view id : entry_of(options.reader).sections) ids.emplace_back(id);
  if (!options.all_sheets) return ids;
  for (const char* id : {"schedule", "loads", "readings", "neutrals", "ranking"}) {
    if (std::count(ids.begin(), ids.end(), id) == 0) ids.emplace_back(id);
  }
  return ids;
}

std::string origin_of(const Provenance& from) {
  return fmt::format("Made on {} by {} from {}{}; fingerprint of the description {}.", from.date,
                     from.program, from.house_file,
                     from.revision ? fmt::format(", revision {}", *from.revision) : "",
                     from.fingerprint);
}

}  // namespace

std::string_view name_of(Reader reader) { return entry_of(reader).name; }

std::optional<Reader> reader_named(std::string_view name) {
  for (const ReaderEntry& one : readers()) {
    if (one.name == name) return one.reader;
  }
  return std::nullopt;
}

std::vector<SectionName> section_names() {
  std::vector<SectionName> names;
  for (const Entry& one : catalogue()) names.push_back(one.name);
  return names;
}

void check_sections(const RecordOptions& options) {
  for (const std::string& id : options.sections) (void)entry_named(id);
}

Record make_record(const Job& job, const RecordOptions& options) {
  SourceList sources;
  Fill fill{job, options, sources};
  Record record;
  record.title = entry_of(options.reader).title;
  record.reader = entry_of(options.reader).name;
  record.house = house_words(job.house);
  record.date = options.provenance.date;
  record.safety = safety_block(fill);
  fill.safety_first = record.safety.has_value();
  record.foot = standing_caution();
  record.origin = origin_of(options.provenance);
  const std::vector<std::string> ids = chosen_sections(options);
  std::vector<std::size_t> of_sources;
  for (const std::string& id : ids) {
    const Entry& entry = entry_named(id);
    if (id == "sources") of_sources.push_back(record.sections.size());
    Section section = id == "sources" ? Section{} : entry.fill(fill);
    const bool nothing = id != "sources" && section.blocks.empty();
    if (!nothing) record.sections.push_back(std::move(section));
  }
  // Last, so that it has the sources of all others; marks need it wherever there are any.
  for (const std::size_t at : of_sources) record.sections[at] = sources_section(fill);
  if (of_sources.empty() && !sources.entries().empty() && options.reader != Reader::Client) {
    record.sections.push_back(sources_section(fill));
  }
  return record;
}

bool is_day(const std::string& text) {
  int year = 0, month = 0, day = 0, read = 0;
  constexpr int kAll = 10;  // characters, and no more behind them
  const bool three = std::sscanf(text.c_str(), "%4d-%2d-%2d%n", &year, &month, &day, &read) == 3;
  const auto number = [](int value) { return static_cast<unsigned>(value); };
  const std::chrono::year_month_day given{
      std::chrono::year{year}, std::chrono::month{number(month)}, std::chrono::day{number(day)}};
  return three && read == kAll && text.size() == kAll && given.ok();
}

std::string fingerprint(std::string_view text) {
  constexpr std::uint32_t kBasis = 2166136261U;  // Fowler, Noll, Vo: FNV-1a of 32 bits
  constexpr std::uint32_t kPrime = 16777619U;
  std::uint32_t hash = kBasis;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * kPrime;
  return fmt::format("{:08x}", hash);
}

}  // namespace evenleg
