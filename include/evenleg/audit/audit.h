// The audit of one house: legs, neutrals, what every load would see if a neutral opened, the ranking
// of what would be hurt, and the wiring findings.
//
// Reference: every load is a constant impedance (the trade's hand method). "As found" is the intact
// house with the loads that are on; an extreme is over all credible states in which the load is on
// (house description, "What the words mean"). Indices are positions in House's vectors. Magnitudes are
// RMS; amperes and volts carry their type.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/audit/behaviour.h"
#include "evenleg/audit/harmonics.h"
#include "evenleg/audit/motor_starts.h"
#include "evenleg/house/house.h"
#include "evenleg/network/places.h"
#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct LegRow {
  std::string leg;
  Amps amps;
  Volts volts;  // to neutral, at the first panel
};

struct LoadRow {
  int load = 0;
  Volts volts;
  Amps amps;
};

// The end of a search over credible states.
template <class Quantity>
struct Extreme {
  Quantity value;
  Quantity bound;          // no credible state goes beyond it
  bool proven = false;     // value and bound are the same to 0.01
  std::vector<int> on;     // the loads that are on in the state that gives the value
};

// What a joint at a neutral adds where the first load leaves its limits (neutral.h).
struct NeutralLimit {
  Ohms ohms;            // added; 0 where the limit is passed with a sound neutral
  int load = 0;         // the load that reaches its limit first
  Volts volts;          // that limit
  std::vector<int> on;  // the loads that are on in that state
  bool proven = false;  // no credible state is more than 0.01 V past any limit there
};

struct NeutralRow {
  std::string place;
  PlaceKind kind = PlaceKind::Service;
  Amps amps;                              // as found, in the conductor alone
  std::optional<Amps> earth_return_amps;  // service only: what comes back beside it
  std::optional<Extreme<Amps>> highest;   // all neutrals sound; absent: no credible state at all
  std::optional<Amps> rated_amps;         // the conductor's ampacity, where it is known
  std::string rated_source;
  std::optional<NeutralLimit> limit{};  // absent: no load passes what it withstands, even when open
  // Where a load is past its limit with the neutral sound: the first of the others.
  std::optional<NeutralLimit> next_limit{};
};

struct LoadExtremes {
  int load = 0;
  std::optional<Volts> as_found;  // with this neutral open; absent for a load that is off
  std::optional<Extreme<Volts>> highest;  // absent: on in no credible state
  std::optional<Extreme<Volts>> lowest;
};

// An empty outlet's terminals; 0 V where nothing is fed through the open neutral.
struct OutletExtremes {
  int outlet = 0;
  std::string legs;  // "L2-N"
  std::optional<Extreme<Volts>> highest;
  std::optional<Extreme<Volts>> lowest;
};

struct OpenNeutral {
  Place place;
  Volts neutral_shift;                      // as found, to the source's neutral
  std::optional<std::string> protected_by;  // a panel whose neutral-loss device would open first
  std::vector<LoadExtremes> loads;
  std::vector<OutletExtremes> outlets;
  std::optional<NeutralLimit> limit;      // as of the NeutralRow
  std::optional<NeutralLimit> next_limit;  // as of the NeutralRow
  int behaviour_left_out = 0;  // loads that run in a state with too many to be followed
  std::vector<StateBehaviour> behaviour;  // empty where no load with a law of its own runs beyond
};

struct RankRow {
  int load = 0;
  int place = 0;  // index in Audit::open_neutral
  Volts volts;
  Volts withstands;
  double over = 0;  // volts / withstands
  std::string severity;
  std::vector<int> on;
};

enum class FindingSeverity { Note, Caution, Danger };
[[nodiscard]] std::string_view name_of(FindingSeverity severity);

struct WiringFinding {
  std::string rule;
  FindingSeverity severity = FindingSeverity::Note;
  std::string subject;
  std::string text;    // observation, implication and recommendation, joined by spaces
  std::string source;  // rule by edition and how it was read (data/rules.toml)
  std::string observation{};     // what is described
  std::string implication{};     // what that amounts to in this house: volts, amperes, who is hit
  std::string recommendation{};  // whom to have look at what
  bool undetermined = false;     // the description leaves open whether it is so
};

struct Audit {
  SolveStatus status = SolveStatus::NotRun;
  std::vector<LegRow> legs;
  std::vector<NeutralRow> neutrals;
  std::vector<LoadRow> loads;  // those that are on
  std::vector<OpenNeutral> open_neutral;
  std::vector<RankRow> ranking;  // worst first, one row for each load
  std::vector<WiringFinding> findings;
  std::optional<Harmonics> harmonics;     // absent: no load that is on has a spectrum
  std::vector<MotorStart> motor_starts;   // one for each load with starting data
  bool certified = true;  // false: values without certificates were asked for
};

struct AuditOptions {
  std::optional<std::string> scenario;  // as found is then these loads
  bool certify = true;
  std::optional<double> degraded_neutral_ohms;  // that of data/motor-starting.toml when absent
  // Called now and then during a long search, never twice at once.
  std::function<void(std::string_view doing, int done, int all)> progress{};
};

// Requires: validate() found nothing. Throws: Error(Request) for an unknown scenario.
[[nodiscard]] Audit audit(const House& house, const Tables& tables,
                          const AuditOptions& options = {});

// Whether a finding is a danger. What an open neutral would do is not counted: it endangers some load
// of nearly every house, whether or not anything is wrong there.
[[nodiscard]] bool shows_danger(const Audit& audit);

}  // namespace evenleg
