// The built-in data files other than the conductors.
#include "evenleg/tables/tables.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

namespace evenleg {
namespace {

bool is_complete(const Citation& citation) {
  return !citation.title.empty() && !citation.edition.empty() && !citation.section.empty() &&
         !citation.precision.empty() && !citation.read.empty();
}

// The six systems of the house description.
TEST_CASE("tables: supply systems") {
  const std::vector<Leg> split = {{"L1", 0}, {"L2", 180}};
  const std::vector<Leg> wye = {{"L1", 0}, {"L2", -120}, {"L3", 120}};
  const std::vector<SupplySystem> expected = {
      {"120/240 split-phase", 120, split, true},
      {"100/200 split-phase", 100, split, true},
      {"120/208 two-leg", 120, {{"L1", 0}, {"L2", -120}}, false},
      {"120/208 wye", 120, wye, false},
      {"127/220 wye", 127, wye, false},
      {"230/400 wye", 230, wye, false},
  };
  const Tables tables = load_tables();
  CHECK(tables.systems == expected);
  CHECK(is_complete(tables.systems_source));
  CHECK(vocabulary(tables).systems == expected);
}

TEST_CASE("tables: every load kind is usable and says where its figures come from") {
  constexpr std::size_t kFewest = 34;
  const Tables tables = load_tables();
  CHECK(tables.load_kinds.size() >= kFewest);
  for (const LoadKind& kind : tables.load_kinds) {
    CAPTURE(kind.name);
    CHECK_FALSE(kind.description.empty());
    CHECK(kind.power_factor > 0);
    CHECK(kind.power_factor <= 1);
    CHECK(withstood_volts(kind, 120) > 120);
    CHECK(is_complete(kind.power_factor_source));
    CHECK(is_complete(kind.withstands_source));
    CHECK(find_kind(tables, kind.name) == &kind);
  }
  CHECK(vocabulary(tables).load_kinds.size() == tables.load_kinds.size());
}

TEST_CASE("tables: kinds are found without regard to case and repeated spaces") {
  const Tables tables = load_tables();
  REQUIRE(find_kind(tables, "plain") != nullptr);
  REQUIRE(find_kind(tables, "heating") != nullptr);
  REQUIRE(find_kind(tables, "water heater") != nullptr);
  CHECK(find_kind(tables, " Water   HEATER ") == find_kind(tables, "water heater"));
  CHECK(find_kind(tables, "waterheater") == nullptr);
  CHECK(find_kind(tables, "") == nullptr);
}

// P0 and Q0 of the sources, P0 / sqrt(P0^2 + Q0^2) by hand:
//   refrigerator  119.55, 52.47   119.55 / 130.56  = 0.9157
//   microwave    1365.53, 451.02 1365.53 / 1438.09 = 0.9495
//   dishwasher    557, 79          557 / 562.57    = 0.9901
//   television    208.03, -20.58  208.03 / 209.05  = 0.9951
TEST_CASE("tables: power factors computed from printed powers") {
  struct Row {
    const char* kind;
    double power_factor;
  };
  constexpr double kHalfADigit = 0.00005;
  const Tables tables = load_tables();
  for (const Row& row : {Row{"refrigerator", 0.9157}, Row{"microwave", 0.9495},
                         Row{"dishwasher", 0.9901}, Row{"television", 0.9951}}) {
    CAPTURE(row.kind);
    const LoadKind* kind = find_kind(tables, row.kind);
    REQUIRE(kind != nullptr);
    CHECK(std::abs(kind->power_factor - row.power_factor) <= kHalfADigit);
  }
}

TEST_CASE("tables: what a kind withstands, relative to its nameplate or in volts") {
  constexpr double kRounding = 1e-9;
  const Tables tables = load_tables();
  // ITI curve: 110 %, 132 V at 120 V. NEMA MG 1: +/-10 %, and +/-6 % for universal motors.
  CHECK(std::abs(withstood_volts(*find_kind(tables, "plain"), 120) - 132) < kRounding);
  CHECK(std::abs(withstood_volts(*find_kind(tables, "router"), 100) - 110) < kRounding);
  CHECK(std::abs(withstood_volts(*find_kind(tables, "well pump"), 230) - 253) < kRounding);
  CHECK(std::abs(withstood_volts(*find_kind(tables, "vacuum cleaner"), 120) - 127.2) < kRounding);
  // Adapters marked 100-240 V: 90 to 264 V, whatever the nameplate.
  CHECK(withstood_volts(*find_kind(tables, "laptop charger"), 120) == 264);
  CHECK(withstood_volts(*find_kind(tables, "laptop charger"), 230) == 264);
}

TEST_CASE("tables: behaviours have names, all different") {
  std::set<std::string_view> names;
  for (Behaviour behaviour :
       {Behaviour::Resistive, Behaviour::Filament, Behaviour::ConstantCurrent,
        Behaviour::ConstantPower, Behaviour::ConstantPowerNarrow, Behaviour::Motor,
        Behaviour::Compressor, Behaviour::SurgeProtector, Behaviour::Mixed}) {
    names.insert(name_of(behaviour));
  }
  CHECK(names.size() == 9);
  const Tables tables = load_tables();
  CHECK(find_kind(tables, "incandescent")->behaviour == Behaviour::Filament);
  CHECK(find_kind(tables, "laptop charger")->behaviour == Behaviour::ConstantPower);
  CHECK(find_kind(tables, "television")->behaviour == Behaviour::ConstantPowerNarrow);
  CHECK(find_kind(tables, "surge strip")->behaviour == Behaviour::SurgeProtector);
  CHECK(find_kind(tables, "refrigerator")->behaviour == Behaviour::Compressor);
}

// The example of `audit --json` has 230.4 V on a load that withstands 132 V: over 1.75, "damage
// likely". 132 and 144 V are the steps of the table on a 120 V load.
TEST_CASE("tables: severity of a voltage over what is withstood") {
  struct Row {
    double volts;
    const char* name;
  };
  const Tables tables = load_tables();
  for (const Row& row :
       {Row{0, "no overvoltage"}, Row{131.9, "no overvoltage"}, Row{132, "damage possible"},
        Row{143, "damage possible"}, Row{144, "damage likely"}, Row{180, "damage likely"},
        Row{230.4, "damage likely"}, Row{240, "damage likely"}}) {
    CAPTURE(row.volts);
    CHECK(severity_of(tables, row.volts / 132).name == row.name);
  }
  CHECK(severity_of(tables, std::nan("")).name == "no overvoltage");
  CHECK(tables.severities_source.read.starts_with("judgement"));
}

const VoltageLimits& limits(const Tables& tables, const std::string& jurisdiction,
                            const std::string& name) {
  for (const VoltageLimits& row : tables.voltage_limits) {
    if (row.jurisdiction == jurisdiction && row.name == name) return row;
  }
  FAIL(jurisdiction << ", " << name);
  return tables.voltage_limits.front();
}

TEST_CASE("tables: voltage limits agree with sources other than those that they cite") {
  const Tables tables = load_tables();
  // COMAR 20.50.07.02 (Maryland), service at 120 V: 114 to 126 V, the same as range A.
  const VoltageLimits& range_a = limits(tables, "United States", "service, range A");
  CHECK(range_a.least_volts == 114);
  CHECK(range_a.most_volts == 126);
  // Range B service is 0.917 to 1.058 per unit in distribution-simulation practice.
  const VoltageLimits& range_b = limits(tables, "United States", "service, range B");
  CHECK(std::abs(range_b.least_volts / range_b.base_volts - 0.917) <= 0.0005);
  CHECK(std::abs(range_b.most_volts / range_b.base_volts - 1.058) <= 0.0005);
  // A utility's prose for range B utilization: +6 % and -13 %, of which whole volts are taken.
  const VoltageLimits& use = limits(tables, "United States", "utilization, range B");
  CHECK(std::abs(use.least_volts - 0.87 * 120) <= 0.5);
  CHECK(std::abs(use.most_volts - 1.06 * 120) <= 0.5);
  // 230 V +/-10 %; +10 / -15 %; 101 +/- 6 V.
  CHECK(std::abs(limits(tables, "Europe", "supply terminals").most_volts - 1.1 * 230) < 1e-9);
  CHECK(std::abs(limits(tables, "Europe", "supply terminals, all of the time").least_volts -
                 0.85 * 230) < 1e-9);
  CHECK(limits(tables, "Japan", "place of supply").least_volts == 101 - 6);
  CHECK(limits(tables, "Japan", "place of supply").most_volts == 101 + 6);
}

TEST_CASE("tables: voltage limits enclose their base, are named once, and cite their source") {
  const Tables tables = load_tables();
  std::set<std::string> names;
  for (const VoltageLimits& row : tables.voltage_limits) {
    CAPTURE(row.name);
    CHECK(row.least_volts < row.base_volts);
    CHECK(row.base_volts < row.most_volts);
    CHECK(is_complete(row.source));
    CHECK(names.insert(row.jurisdiction + ": " + row.name).second);
  }
}

// NEC 210.19(A) and 215.2(A), informational notes.
TEST_CASE("tables: voltage drop") {
  const Tables tables = load_tables();
  CHECK(tables.voltage_drop.branch_percent == 3);
  CHECK(tables.voltage_drop.total_percent == 5);
  CHECK(is_complete(tables.voltage_drop.source));
}

// Sections by edition: NEC 210.4(B) as quoted; 310.16 was 310.15(B)(16) from 2011 to 2017.
TEST_CASE("tables: wiring rules say where they stand and how they were read") {
  const Tables tables = load_tables();
  for (const WiringRule& rule : tables.wiring_rules) {
    CAPTURE(rule.name);
    CHECK(!rule.title.empty());
    CHECK(!rule.sections.empty());
    CHECK(!rule.read.empty());
    CHECK((rule.jurisdiction == "United States" || rule.jurisdiction == "Japan" ||
           rule.jurisdiction == "any"));
  }
  const WiringRule* panels = find_rule(tables, "multiwire from two panels");
  REQUIRE(panels != nullptr);
  CHECK(source_text(*panels) ==
        "NFPA 70, National Electrical Code: 210.4(A) (2023 and earlier); read: second hand, in a "
        "summary of 2023");
  const WiringRule* neutral = find_rule(tables, "neutral beyond its ampacity");
  REQUIRE(neutral != nullptr);
  REQUIRE(neutral->sections.size() == 2);
  CHECK(neutral->sections[1].section == "table 310.15(B)(16)");
  CHECK(neutral->sections[1].editions == "2011 to 2017");
  CHECK(find_rule(tables, "no such rule") == nullptr);
}

}  // namespace
}  // namespace evenleg
