// The data files, read: conductors, supply systems, load kinds, voltage limits,
// severities, wiring rules.
//
// The files of data/ are built into the program; a folder named on the command line replaces those
// that it holds. Each file names its source (`[source]`, refused without one), each entry may name a
// narrower one, and `read` says how it was read: at source, second hand, from memory, judgement.
#pragma once

#include <complex>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"
#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"
#include "evenleg/tables/demand_rules.h"
#include "evenleg/tables/motor_starting.h"
#include "evenleg/tables/patterns.h"
#include "evenleg/tables/spectra.h"

namespace evenleg {

// One size of conductor. Resistance and reactance at working temperature, per conductor.
struct Conductor {
  std::string name;                            // "12 Cu", "4/0 Al", "250 Al", "2.5 mm2 Cu"
  double ohms_per_metre = 0;                   // 75 °C (AWG, kcmil) or 70 °C (metric)
  double reactance_ohms_per_metre = 0;
  std::optional<double> ampacity;              // A; 75 °C column, or the metric table
  std::optional<double> ampacity_60c;          // A; absent for metric sizes
  std::optional<double> ampacity_90c;          // A; absent for metric sizes
  std::optional<double> small_conductor_limit;  // A; overcurrent limit of small conductors
  std::optional<double> dwelling_service_limit;  // A; largest dwelling service or main feeder rating
  Citation resistance_source;
  Citation reactance_source;
  Citation ampacity_source;
  Citation small_conductor_source;   // empty where there is no such limit
  Citation dwelling_service_source;  // empty where there is no such limit
};

// What a conductor may carry in a branch circuit: the lesser of ampacity and small-conductor limit.
[[nodiscard]] std::optional<double> branch_ampacity(const Conductor& conductor);

// How a kind of load behaves away from its nameplate volts, in a word. The audit's reference is
// constant impedance whatever the class; LoadLaw says it in figures.
enum class Behaviour {
  Resistive,
  Filament,
  ConstantCurrent,
  ConstantPower,           // wide input, 100 to 240 V
  ConstantPowerNarrow,     // one nominal voltage only
  Motor,
  Compressor,
  SurgeProtector,
  Mixed,
};
[[nodiscard]] std::string_view name_of(Behaviour behaviour);

// A measured fit P0 (z v² + i v + p), v in per unit; it says nothing beyond its range.
struct ZipFit {
  std::vector<double> active;    // z, i, p
  std::vector<double> reactive;
  double from = 0;  // per unit
  double to = 0;
};

// How a load's current follows its volts, far from the nameplate too. Volts are per unit of the
// nameplate, but for the limits of a law with limits_in_volts; the rule is in network/load_law.h.
struct LoadLaw {
  std::string name = "resistance";
  std::string text = "constant impedance";  // for people
  double active_exponent = 2;  // P by volts, beyond the fit where there is one
  double reactive_exponent = 2;
  std::optional<ZipFit> zip;
  bool motor_run = false;                  // the run law of motor D in place of the exponents
  bool limits_in_volts = false;            // off_below, on_above and fails_above are volts
  std::optional<double> off_below;         // stops drawing,
  std::optional<double> on_above;          // draws again
  std::optional<double> stalls_below;      // draws as a fixed impedance
  std::optional<double> restarts_above;
  std::complex<double> stalled_ohms{};     // per unit of nameplate volts over nameplate amperes
  std::optional<double> conducts_above;    // open below, then I = amps v^exponent
  double conducts_amps = 0;
  double conducts_exponent = 0;
  std::optional<double> fails_above;       // opens for good,
  std::string fails_after;                 // after so long
  std::string note;                        // "" where there is none
  Citation source;
  Citation limits_source;                  // empty where it has no limits
};

struct LoadKind {
  std::string name;  // as written in `kind = "…"`
  std::string description;
  Behaviour behaviour = Behaviour::Resistive;
  std::string demand = "general";  // category in a service calculation, as in `demand = "…"`
  LoadLaw law;                   // constant impedance where the kind names none
  double power_factor = 1;       // lagging
  double withstands = 1.1;       // steady volts, per unit of the load's nameplate volts
  std::optional<double> withstands_volts;  // in their place: volts, whatever the nameplate says
  Citation withstands_source;
  Citation power_factor_source;
};

// The steady volts that a load of this kind withstands, given its nameplate volts.
[[nodiscard]] double withstood_volts(const LoadKind& kind, double nameplate_volts);

// A load's nameplate volt-amperes at its nameplate volts; measured amperes count at those, too.
[[nodiscard]] double nameplate_volt_amps(const Load& load, double power_factor,
                                         double nameplate_volts);

// Voltage limits of a jurisdiction, leg to neutral, in volts on a nominal base.
struct VoltageLimits {
  std::string jurisdiction;  // "United States"
  std::string name;          // "service, range A"
  double base_volts = 0;
  double least_volts = 0;
  double most_volts = 0;
  Citation source;
};

struct Severity {
  std::string name;      // "damage likely"
  double from_over = 0;  // volts over what the load withstands, from this ratio up
  std::string meaning;
};

struct VoltageDropLimits {
  double branch_percent = 0;
  double total_percent = 0;
  Citation source;
};

// A rule behind a wiring finding: where it stands, by edition, and how it was read.
struct RuleSection {
  std::string section;   // "210.4(B), each multiwire circuit"
  std::string editions;  // "2008 to 2023"; "" where there are none
};
struct WiringRule {
  std::string name;          // as WiringFinding::rule
  std::string jurisdiction;  // "United States", "Japan"; "any" for arithmetic and physics
  std::string title;
  std::vector<RuleSection> sections;
  std::string read;  // as in Citation; "computed" where nothing was read
};

struct Tables {
  std::vector<SupplySystem> systems;
  Citation systems_source;
  std::vector<Conductor> conductors;
  std::vector<LoadKind> load_kinds;
  std::vector<VoltageLimits> voltage_limits;
  std::vector<Severity> severities;  // ascending in from_over
  Citation severities_source;
  VoltageDropLimits voltage_drop;
  std::vector<KindSpectrum> spectra;
  MotorStarting motor_starting;
  FlickerTables flicker;
  std::vector<WiringRule> wiring_rules;
  SymptomTables symptoms;
  std::vector<DemandMethod> demand_methods;
};

// Throws: Error(Request) for a folder that is not there, and for every fault of a file in it.
[[nodiscard]] Tables load_tables(const std::optional<std::filesystem::path>& folder = std::nullopt);

[[nodiscard]] Vocabulary vocabulary(const Tables& tables);
// Names are matched without regard to case and repeated spaces; "AWG", "kcmil" may be written out.
[[nodiscard]] const Conductor* find_conductor(const Tables& tables, std::string_view name);
[[nodiscard]] const LoadKind* find_kind(const Tables& tables, std::string_view name);
[[nodiscard]] const WiringRule* find_rule(const Tables& tables, std::string_view name);
// "NFPA 70, National Electrical Code: 210.4(A) (2023 and earlier); read: second hand".
[[nodiscard]] std::string source_text(const WiringRule& rule);
// The severity that `over` (volts over what is withstood) falls in.
[[nodiscard]] const Severity& severity_of(const Tables& tables, double over);

}  // namespace evenleg
