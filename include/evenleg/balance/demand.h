// The service load of a dwelling by a stated calculation method: every step with the rule that it
// follows, the service's and the neutral's amperes, and what they are held against.
//
// Methods and rules are data (tables/demand_rules.h). Volts are nominal: 240 V between the legs of
// a split-phase service, 208 V between two legs of a wye. A load counts by its nameplate:
// volt-amperes and watts as they stand (watts of motors and compressors over their power factor),
// amperes times the nominal volts of its connection. Nothing is rounded but where whole amperes are
// named. Checked against NEC Annex D, D1 and D2, and the other examples of tests/published/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// A calculated current in whole amperes: a fraction below one half is dropped, any other counts as
// one more. Source: NEC 220.5(B); Annex D, preamble.
[[nodiscard]] double whole_amps(double amps);

// A load that is not in the house, between two legs.
struct AddedLoad {
  std::string name;
  std::string category;
  double va = 0;
};

struct DemandOptions {
  std::string method = "optional";
  std::optional<int> edition;  // the method's default when absent
  std::vector<AddedLoad> added;
};

// A load, or the loads that are one appliance, as the calculation takes it.
struct DemandItem {
  std::string name;
  std::string category;
  std::string category_from;  // "as described", "its kind", "line to line", "added"
  double va = 0;
  double neutral_va = 0;             // of its parts between a leg and the neutral
  std::vector<double> leg_amps;      // on each leg, at nominal volts
  std::vector<double> neutral_amps;  // of these, what returns by the neutral
  bool motor = false;
  std::optional<std::string> noncoincident;
  bool counted = false;
  std::string left_out;  // why it is not, where its category would be
};

struct DemandStep {
  std::string text;  // "Small-appliance circuits, 2 of 1500 VA"
  std::string rule;  // its name in the data: "small appliance"
  std::string section;
  std::string source;     // code, edition and how the rule was read
  double value = 0;       // VA, W or A, as the result says
  double total = 0;       // running
  bool replaces = false;  // the value takes the place of the total so far
};

// Amperes by conductor, where the method goes by them.
struct DemandByLine {
  std::string text;
  std::string section;
  std::string source;
  std::vector<double> legs;
  double neutral = 0;
};

// A conductor or a device that a calculated current is held against.
struct DemandLimit {
  std::string what;  // "service breaker"
  double amps = 0;
  std::string source;  // "" where it was described
};

struct DemandResult {
  std::string method;
  std::string method_text;
  std::string code;
  int edition = 0;
  bool default_edition = false;
  std::string unit;
  double line_volts = 0;
  std::vector<std::string> legs;
  std::vector<DemandItem> items;
  std::vector<DemandStep> steps;
  double load = 0;                    // in `unit`
  double amps = 0;                    // of the service, exact; by line, of the leg that has more
  std::vector<DemandByLine> by_line;  // empty where the method goes by its sum
  std::vector<DemandStep> neutral_steps;
  std::optional<double> neutral_va;
  std::optional<double> neutral_amps;
  std::optional<double> neutral_by_leg_amps;  // where taking the legs one by one gives more
  double compared_amps = 0;  // with limits and ratings: whole where the code rounds, else exact
  double least_service_amps = 0;
  std::string least_service_source;
  std::optional<double> next_rating_amps;  // standard, for the load and the least service
  std::string next_rating_source;
  std::string rounding_source;      // "" where the code is not known to round
  std::vector<DemandLimit> limits;  // of the service's legs, as far as known
  std::vector<DemandLimit> neutral_limits;
  // From the calculated load to the least limit; negative: beyond it. So much more of a load that
  // is counted in full; what a method makes of one that it reduces, the calculation with it says.
  std::optional<double> spare_amps;
  std::vector<std::string> notes;  // sentences
};

// Throws: Error(Request) for a method or an edition that is not known, a supply that the method
// does not cover, and a figure of the dwelling that it needs and is not described.
// Requires: validate(house, vocabulary) found nothing.
[[nodiscard]] DemandResult demand(const House& house, const Tables& tables,
                                  const DemandOptions& options = {});

// The methods that `demand` takes, as they are named.
[[nodiscard]] std::vector<std::string> demand_methods(const Tables& tables);

}  // namespace evenleg
