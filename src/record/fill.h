// Internal to the record: its sections, each filled from the job.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/drawing/volts.h"
#include "evenleg/record/record.h"
#include "evenleg/report/diagnose_text.h"
#include "evenleg/report/source_list.h"

namespace evenleg {

struct Fill {
  const Job& job;
  const RecordOptions& options;
  SourceList& sources;
  bool safety_first = false;  // the record begins with a safety block

  [[nodiscard]] const Load& load(int index) const {
    return job.house.loads[static_cast<std::size_t>(index)];
  }
};

// ---- What several sections tell ----

// "[3]" with a space before it, "" for a source without a title.
[[nodiscard]] std::string marked(SourceList& sources, const Citation& source);
[[nodiscard]] std::string marked(SourceList& sources, const std::string& source);
// The house's name, or words for one without.
[[nodiscard]] std::string house_words(const House& house);
// A field of the visit, "" when it is absent.
[[nodiscard]] std::string visit_field(const House& house, const std::string& key);
// What the shown plan does, a sentence.
[[nodiscard]] std::string plan_words(const Job& job);
[[nodiscard]] DiagnosisView diagnosis_view(const Job& job);

// What no credible state exceeds, in volts: the extreme where it is proven, else its bound where
// there is one.
[[nodiscard]] double most_of(const Extreme<Volts>& highest);
[[nodiscard]] double least_of(const Extreme<Volts>& lowest);

// What an open neutral could do: to loads, counted as past where there is no proof of the contrary,
// and at outlets with nothing described, held to what a plain load withstands.
struct Exposure {
  std::size_t loads_past = 0;
  std::size_t outlets_past = 0;
  int worst_load = -1;  // furthest over what it withstands
  double worst_volts = 0;
  double worst_withstands = 0;
  const OpenNeutral* worst_open = nullptr;
  int worst_outlet = -1;
  double worst_outlet_volts = 0;

  [[nodiscard]] bool any() const { return loads_past > 0 || outlets_past > 0; }
};
// `only`: that place; nullptr: all of the audit's.
[[nodiscard]] Exposure exposure_at(const Job& job, const OpenNeutral* only = nullptr);
// Volts that a plain load on a leg and the neutral withstands.
[[nodiscard]] double plain_limit(const Job& job);
// The neutral that an event's record takes to have opened: the one asked for, else the one that the
// readings speak against, else the service's; nullptr where there is none.
[[nodiscard]] const OpenNeutral* event_place(const Fill& fill);
// A sentence for the highest and the lowest volts of a leg that were read outside the supply's
// limits. `high`: whether any was above.
[[nodiscard]] std::vector<std::string> volts_beyond(Fill& fill, bool& high);
// A sentence for each neutral that the readings or answers speak against: empty for none.
[[nodiscard]] std::vector<std::string> neutral_evidence(const Job& job);
// Names of the patterns of data/patterns.toml in which a neutral is loose or open.
inline constexpr std::string_view kNeutralPatterns[] = {
    "service neutral", "feeder joint", "multiwire neutral", "multiwire neutral at a device",
    "two-wire neutral"};
// "a loose or open service neutral", where one of them is the pattern most supported; "" otherwise.
[[nodiscard]] std::string neutral_pattern(const Job& job);
[[nodiscard]] std::optional<SafetyBlock> safety_block(Fill& fill);
// What the measured ohms of the service neutral are beside its limit; "" where they are not known.
[[nodiscard]] std::string ohms_beside_limit(const Job& job);

// Every pair of terminals to neutral, by volts over what is withstood there.
struct OutletSpan {
  VoltsSpan volts;
  std::string open_at;  // the place that gives the highest
  bool proven = false;
};
[[nodiscard]] std::vector<OutletSpan> outlet_spans(const Job& job);
// The supply limits that volts are held against: of those for the supply's volts the highest;
// nullptr where the tables have none.
[[nodiscard]] const VoltageLimits* supply_limits(const Job& job);
// The same as a band of a drawing, its source marked.
[[nodiscard]] std::optional<VoltsBand> volts_band(const Fill& fill);
// "yes", "no; none above 240 V", "not asked for".
[[nodiscard]] std::string proof_words(const Job& job, bool proven, double bound,
                                      std::string_view unit);

// ---- Sections ----

[[nodiscard]] Section summary_section(Fill& fill);
[[nodiscard]] Section job_section(Fill& fill);
[[nodiscard]] Section complaint_section(Fill& fill);
[[nodiscard]] Section readings_section(Fill& fill);
[[nodiscard]] Section conductors_section(Fill& fill);
[[nodiscard]] Section log_section(Fill& fill);
[[nodiscard]] Section findings_section(Fill& fill);
[[nodiscard]] Section inspection_limits_section(Fill& fill);
[[nodiscard]] Section observations_section(Fill& fill);
[[nodiscard]] Section not_determined_section(Fill& fill);
[[nodiscard]] Section service_section(Fill& fill);
[[nodiscard]] Section neutrals_section(Fill& fill);
[[nodiscard]] Section neutral_ohms_section(Fill& fill);
[[nodiscard]] Section multiwires_section(Fill& fill);
[[nodiscard]] Section motor_starts_section(Fill& fill);
[[nodiscard]] Section ranking_section(Fill& fill);
[[nodiscard]] Section outlets_section(Fill& fill);
[[nodiscard]] Section leg_loads_section(Fill& fill);
[[nodiscard]] Section moves_section(Fill& fill);
[[nodiscard]] Section schedule_section(Fill& fill);
[[nodiscard]] Section panels_section(Fill& fill);
[[nodiscard]] Section directory_section(Fill& fill);
[[nodiscard]] Section service_calculation_section(Fill& fill);
[[nodiscard]] Section calls_section(Fill& fill);
[[nodiscard]] Section hand_over_section(Fill& fill);
[[nodiscard]] Section signature_section(Fill& fill);
[[nodiscard]] Section attachments_section(Fill& fill);
[[nodiscard]] Section plain_words_section(Fill& fill);
[[nodiscard]] Section what_now_section(Fill& fill);
[[nodiscard]] Section whom_to_call_section(Fill& fill);
[[nodiscard]] Section event_section(Fill& fill);
[[nodiscard]] Section exposed_section(Fill& fill);
[[nodiscard]] Section to_test_section(Fill& fill);
[[nodiscard]] Section claim_section(Fill& fill);
[[nodiscard]] Section loads_section(Fill& fill);
[[nodiscard]] Section limits_section(Fill& fill);
[[nodiscard]] Section cautions_section(Fill& fill);
[[nodiscard]] Section about_section(Fill& fill);
// Requires: all others are filled.
[[nodiscard]] Section sources_section(Fill& fill);

}  // namespace evenleg
