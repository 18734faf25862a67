// Internal to audit/audit.h: what the description itself shows to be wrong or worth a look.
//
// A rule says what is described (observation), what that amounts to in this house, from the audit's
// own results (implication), and whom to have look at what (recommendation). It names no cause, and
// never that something is safe. Where it stands and since when is in data/rules.toml.
#pragma once

#include "evenleg/audit/audit.h"
#include "evenleg/base/quoted.h"
#include "evenleg/network/model.h"

namespace evenleg {

// What the rules look at.
struct Seen {
  const House& house;
  const Wiring& wiring;
  const Model& model;
  const Tables& tables;
  const Solution& as_found;
  const std::vector<bool>& on;  // as found, by load
  const std::vector<NeutralRow>& neutrals;
  const std::vector<OpenNeutral>& open_neutral;
  const std::vector<RankRow>& ranking;
  const std::optional<Harmonics>& harmonics;
};

struct FindingWords {
  std::string observation;
  std::string implication;
  std::string recommendation;
};

// Takes the source from the rule of that name; `more` is added to it.
void add_finding(const Seen& seen, std::vector<WiringFinding>& findings, std::string_view rule,
                 FindingSeverity severity, const std::string& subject, FindingWords words,
                 const std::string& more = "");

// Words and figures that several rules use (finding_words.cc).
inline constexpr std::string_view kElectrician =
    "Have a licensed electrician look at this promptly.";
[[nodiscard]] std::string quoted_circuits(const Seen& seen, const Cable& cable);
// What a hot of a cable puts into its neutral as found, at the panel end.
[[nodiscard]] Complex neutral_amps_of(const Seen& seen, int cable, int hot);
// The current of a hot of a cable as found, at its panel end.
[[nodiscard]] Complex hot_amps_of(const Seen& seen, int cable, int hot);

// Voltage limits for the nominal volts of this supply that `volts` (leg to neutral) breaks: those
// at the service, or those at the point of use.
enum class LimitsAt { Service, Use };
struct BrokenLimits {
  std::vector<const VoltageLimits*> limits;
  bool widest = false;  // some jurisdiction's widest limits are among them
};
[[nodiscard]] BrokenLimits broken_limits(const Seen& seen, double volts, LimitsAt where);
// "114 to 126 V (United States, service, range A) and 110 to 127 V (...)".
[[nodiscard]] std::string limits_text(const BrokenLimits& broken);
// The limits that each leg breaks at the first panel, as found, together.
[[nodiscard]] BrokenLimits broken_at_service(const Seen& seen);
// "L1 at 86.0 V and L2 at 154 V": legs to neutral at the first panel.
[[nodiscard]] std::string leg_volts_text(const Seen& seen, const PanelState& first);

// A load that is on as found, with every neutral sound, past what it withstands.
struct PastAsFound {
  int load = 0;
  double volts = 0;
  double withstands = 0;
  bool by_the_legs = false;  // fit for nominal volts, and taken past by legs beyond their limits
};
// Furthest past first (past_limits.cc).
[[nodiscard]] std::vector<PastAsFound> past_as_found(const Seen& seen);
// Whether an open neutral would take a load past what it withstands; where it is past as found, only
// if it would go further.
[[nodiscard]] bool is_taken_past(const Seen& seen, const LoadExtremes& row);

[[nodiscard]] const NeutralRow* neutral_row(const Seen& seen, PlaceKind kind,
                                            std::string_view place);
// "15.2 A as found and up to 28.9 A": what a sound neutral carries.
[[nodiscard]] std::string neutral_amps_text(const NeutralRow& row);
// What the open neutrals for which `is_asked` holds would do: who is hit worst, and how many loads
// go past what they withstand. "" where they hold no load that can run.
template <class Predicate>
[[nodiscard]] std::string if_opened(const Seen& seen, Predicate is_asked);
[[nodiscard]] std::string if_these_opened(const Seen& seen,
                                          const std::vector<const OpenNeutral*>& asked);

template <class Predicate>
std::string if_opened(const Seen& seen, Predicate is_asked) {
  std::vector<const OpenNeutral*> asked;
  for (const OpenNeutral& open : seen.open_neutral) {
    if (is_asked(open.place)) asked.push_back(&open);
  }
  return if_these_opened(seen, asked);
}

void find_multiwire_faults(const Seen& seen, std::vector<WiringFinding>& findings);
void find_disconnect_faults(const Seen& seen, std::vector<WiringFinding>& findings);
void find_loads_across(const Seen& seen, std::vector<WiringFinding>& findings);
void find_overloads(const Seen& seen, std::vector<WiringFinding>& findings);
void find_neutral_overloads(const Seen& seen, std::vector<WiringFinding>& findings);
void find_voltage_faults(const Seen& seen, std::vector<WiringFinding>& findings);
void find_supply_faults(const Seen& seen, std::vector<WiringFinding>& findings);
void find_open_neutral_risks(const Seen& seen, std::vector<WiringFinding>& findings);

// All rules, dangers first.
[[nodiscard]] std::vector<WiringFinding> find_wiring_faults(const Seen& seen);

}  // namespace evenleg
