// The rules of the service calculations, read from data/demand-*.toml: one file for each method,
// each rule with the editions that it holds in, its section, its figures and how it was read.
//
// What differs between editions stands in the data; the calculation asks for a rule by name and
// edition. A file is refused in which a rule is missing for one of its editions, or is there twice.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"

namespace evenleg {

struct Tables;

// A part of a load counted at a percentage: from where the tier before it ends, up to `up_to`.
struct DemandTier {
  std::optional<double> up_to;  // absent: all that is left
  double percent = 0;
};

// A row of a table by number of appliances.
struct DemandBand {
  int from = 0;
  std::optional<int> to;  // absent: and all above
  std::map<std::string, double> figures;
};

// One category of heating or cooling and what part of it counts, by how many units there are.
struct DemandTerm {
  bool cooling = false;
  std::string category;
  double percent = 0;
  std::optional<int> fewer_than;
  std::optional<int> at_least;
};

struct DemandRule {
  std::string name;  // "general lighting"
  int first = 0;     // editions, inclusive
  int last = 0;
  std::string section;  // "table 220.42"
  std::string read;     // as in Citation
  std::map<std::string, double> figures;
  std::vector<std::string> counts;  // categories of load
  std::vector<DemandTier> tiers;
  std::vector<DemandBand> bands;
  std::vector<DemandTerm> terms;

  // Requires: one of the figures that demand_rules.cc asks of this rule.
  [[nodiscard]] double figure(std::string_view key) const;
  [[nodiscard]] bool does_count(std::string_view category) const;
  // The row for `number` appliances; nullptr below the first.
  [[nodiscard]] const DemandBand* band(int number) const;
};

struct DemandMethod {
  std::string name;  // as --method takes it
  std::string text;  // "optional calculation"
  std::string code;  // "NFPA 70, National Electrical Code"
  std::string unit;  // "VA", "W"
  int default_edition = 0;
  std::vector<int> editions;  // ascending
  Citation source;
  std::vector<DemandRule> rules;
};

[[nodiscard]] const DemandMethod* find_demand_method(const Tables& tables, std::string_view name);
// Requires: a rule that demand_rules.cc asks of that method, in one of its editions.
[[nodiscard]] const DemandRule& demand_rule(const DemandMethod& method, std::string_view name,
                                            int edition);

// The categories that a load may have: the choices of its key `demand`.
[[nodiscard]] const std::vector<std::string>& demand_categories();
// The category of that name, in whatever case, or nothing.
[[nodiscard]] std::optional<std::string> demand_category(std::string_view name);

}  // namespace evenleg
