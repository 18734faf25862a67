// data/demand-*.toml: each rule once in each edition, the tiers and tables as printed where they
// were read at source, and what a wrong file is told.
#include "evenleg/tables/demand_rules.h"

#include <doctest/doctest.h>

#include "evenleg/tables/tables.h"
#include "src/tables/readers.h"

namespace evenleg {
namespace {

TEST_CASE("demand rules: seven files, each with its source, each rule with how it was read") {
  const Tables tables = load_tables();
  CHECK(tables.demand_methods.size() == 7);
  for (const DemandMethod& method : tables.demand_methods) {
    CAPTURE(method.name);
    CHECK_FALSE(method.source.read.empty());
    for (const DemandRule& rule : method.rules) {
      CAPTURE(rule.name);
      CHECK_FALSE(rule.section.empty());
      CHECK_FALSE(rule.read.empty());
      CHECK(rule.first <= rule.last);
    }
  }
}

// NEC table 220.55, rows 1 to 17 of column C as the Philippine code prints the same table.
TEST_CASE("demand rules: column C of the cooking table") {
  const Tables tables = load_tables();
  const DemandRule& rule = demand_rule(*find_demand_method(tables, "standard"), "cooking", 2023);
  const double printed[] = {8, 11, 14, 17, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32};
  int count = 0;
  for (const double kw : printed) {
    const DemandBand* band = rule.band(++count);
    CAPTURE(count);
    REQUIRE(band != nullptr);
    CHECK(band->figures.at("c_kw") == kw);
  }
  CHECK(rule.band(0) == nullptr);
}

TEST_CASE("demand rules: only the rules of 2026 take 2 VA and 8 kVA") {
  const Tables tables = load_tables();
  const DemandMethod& optional = *find_demand_method(tables, "optional");
  for (const int edition : optional.editions) {
    CAPTURE(edition);
    const bool newest = edition == 2026;
    CHECK(demand_rule(optional, "general lighting", edition).figure("va_per_ft2") ==
          (newest ? 2 : 3));
    CHECK(demand_rule(optional, "general load", edition).tiers.front().up_to ==
          (newest ? 8000 : 10000));
  }
}

TEST_CASE("demand rules: a category is found in whatever case, and every kind of load has one") {
  CHECK(demand_category("ev CHARGER") == "EV charger");
  CHECK_FALSE(demand_category("charger"));
  CHECK_FALSE(demand_category(""));
  for (const LoadKind& kind : load_tables().load_kinds) {
    CAPTURE(kind.name);
    CHECK(demand_category(kind.demand) == kind.demand);
  }
}

TEST_CASE("demand rules: a rule that is missing, twice, unknown or wrong is told") {
  DataFile file("d.toml", R"(
source = {title = "t", edition = "e", section = "s", precision = "p", read = "r"}
[method]
name = "recorded"
text = "t"
code = "c"
unit = "VA"
default_edition = 2021
editions = [{year = 2020}, {year = 2023}]
[[rule]]
name = "recorded demand"
first = 2020
last = 2023
section = "s"
read = "r"
percent = 125
[[rule]]
name = "recorded demand"
first = 2023
last = 2023
section = "s"
read = "r"
[[rule]]
name = "guess"
first = 2020
last = 2023
section = "s"
read = "r"
)");
  Tables tables;
  std::optional<Row> root = file.root();
  REQUIRE(root.has_value());
  read_demand_method(*root, tables);
  std::string told;
  for (const Fault& fault : file.faults()) told += line(fault) + "\n";
  CAPTURE(told);
  for (const char* expected :
       {"d.toml:8:19: it is none of the editions; name one of them",
        "\"guess\" is no rule of the method; correct its name or remove the rule",
        "the rule \"recorded demand\" is there more than once in edition 2023",
        "the rule \"EV charger\" is there not once in edition 2020", "\"percent\""}) {
    CAPTURE(expected);
    CHECK(told.find(expected) != std::string::npos);
  }
}

}  // namespace
}  // namespace evenleg
