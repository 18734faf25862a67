// Dips worked by hand. Two legs of 120 V, 0.05 ohm in each hot and in the neutral of the service, a
// lamp of 24 ohms on each leg, and a motor that with its rotor locked is 120 V / 24 A = 5 ohms on
// L1. By Millman, with Yk = 1 / (0.05 + Rk) and Yn the neutral's,
//   VN = 120 (Y1 - Y2) / (Y1 + Y2 + Yn),
// and a lamp has (120 -+ VN) R / (R + 0.05).
//   before   119.7505 V on both lamps, VN = 0
//   during   R1 = 24 || 5: VN = 1.1669 V, L1 117.4144 V, L2 120.9149 V
//            1.951 % down and 0.972 % up
//   during, 0.5 ohm more in the neutral: VN = 11.2765 V, L1 107.4255 V, L2 131.0035 V
//            10.292 % down and 9.397 % up
#include "evenleg/audit/motor_starts.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr std::string_view kHouse = R"(
format = 1
house = {name = "two legs"}
supply = {system = "120/240 split-phase"}
service = {hot_ohms = 0.05, neutral_ohms = 0.05}
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "One", legs = ["L1"]}, {name = "Two", legs = ["L2"]},
           {name = "Well", legs = ["L1"]}, {name = "Across", legs = ["L1", "L2"], poles = 2}]
[[load]]
name = "Lamp one"
at = "One"
ohms = 24
[[load]]
name = "Lamp two"
at = "Two"
ohms = 24
[[load]]
name = "Motor"
amps = 4
on = false
)";

// `keys`: where the motor is and how it starts.
DescribedAudit with_motor(const std::string& keys) { return audit_of(std::string(kHouse) + keys); }

const std::string kOnOneLeg = "at = \"Well\"\nstarting_amps = 24\nstarting_power_factor = 1\n";

const DipRow& row_of(const std::vector<DipRow>& rows, std::string_view where) {
  for (const DipRow& row : rows) {
    if (row.where == where) return row;
  }
  FAIL("no such row");
  return rows.front();
}

TEST_CASE("motor starts: the dip on its leg and the rise on the other, by Millman") {
  const DescribedAudit found = with_motor(kOnOneLeg);
  REQUIRE(found.audit.motor_starts.size() == 1);
  const MotorStart& start = found.audit.motor_starts[0];
  CHECK(start.load == 2);
  CHECK(start.locked_rotor.si() == 24);
  CHECK(start.nameplate.si() == 120);
  CHECK_FALSE(start.at_least);
  const DipRow& one = row_of(start.sound.outlets, "One");
  const DipRow& two = row_of(start.sound.outlets, "Two");
  CHECK(one.legs == "L1-N");
  CHECK(matches_printed(one.before, "119.7505"));
  CHECK(matches_printed(one.during, "117.4144"));
  CHECK(matches_printed(one.percent, "1.951"));
  CHECK(matches_printed(two.before, "119.7505"));
  CHECK(matches_printed(two.during, "120.9149"));
  CHECK(matches_printed(-two.percent, "0.972"));
  CHECK(matches_printed(start.sound.amps, "23.483"));  // 117.4144 / 5
  CHECK(start.sound.verdict == StartVerdict::DimsAndBrightens);
  CHECK(start.sound.limits_passed.empty());
}

TEST_CASE("motor starts: half an ohm more in the service neutral") {
  const DescribedAudit found = with_motor(kOnOneLeg);
  const StartState& state = found.audit.motor_starts[0].degraded;
  CHECK(state.added_neutral.si() == 0.5);
  CHECK(matches_printed(row_of(state.outlets, "One").percent, "10.292"));
  CHECK(matches_printed(-row_of(state.outlets, "Two").percent, "9.397"));
  CHECK(matches_printed(state.change_percent, "10.292"));
  CHECK(state.limits_passed == std::vector<double>{4, 6, 7});
  // The panel has no run between it and the lamps.
  REQUIRE(state.legs.size() == 2);
  CHECK(state.legs[0].where == "Main");
  CHECK(matches_printed(state.legs[0].percent, "10.292"));
  CHECK(matches_printed(-state.legs[1].percent, "9.397"));
}

// With 1 ohm in the motor's own run: it loses about a sixth of its volts there, the lamps far less.
TEST_CASE("motor starts: the motor's own outlet is listed and not judged") {
  std::string text(kHouse);
  const std::string well = "{name = \"Well\", legs = [\"L1\"]}";
  text.replace(text.find(well), well.size(),
               "{name = \"Well\", legs = [\"L1\"], hot_ohms = 1, neutral_ohms = 0}");
  const DescribedAudit found = audit_of(text + kOnOneLeg);
  const MotorStart& start = found.audit.motor_starts[0];
  const DipRow& own = row_of(start.sound.outlets, "Well");
  const DipRow& one = row_of(start.sound.outlets, "One");
  CHECK(own.motor_alone);
  CHECK_FALSE(one.motor_alone);
  CHECK(own.percent > 15);
  CHECK(one.percent < 2);
  CHECK(start.sound.outlets.front().where == "Well");
  CHECK(start.sound.change_percent == one.percent);
}

// 240 V / 24 A = 10 ohms across both legs, 5 ohms on each half: 120 - 0.05 i, i = 120 / (0.05 + 24
// || 5): 118.5673 V on both lamps, 0.988 % down whatever the neutral is.
TEST_CASE("motor starts: a motor across both legs only dims") {
  const DescribedAudit found =
      with_motor("at = \"Across\"\nstarting_amps = 24\nstarting_power_factor = 1\n");
  for (const StartState* state :
       {&found.audit.motor_starts[0].sound, &found.audit.motor_starts[0].degraded}) {
    CHECK(matches_printed(row_of(state->outlets, "One").percent, "0.988"));
    CHECK(matches_printed(row_of(state->outlets, "Two").percent, "0.988"));
    CHECK(state->verdict == StartVerdict::DimsOnly);
  }
}

// With 0.2 ohm more: VN = 120 (0.238780 - 0.041580) / (0.280360 + 4) = 5.5285 V.
TEST_CASE("motor starts: the added resistance may be stated, and only the neutral's changes then") {
  const DescribedAudit found = with_motor(kOnOneLeg);
  AuditOptions options;
  options.degraded_neutral_ohms = 0.2;
  const Audit stated = audit(found.house, load_tables(), options);
  const StartState& state = stated.motor_starts[0].degraded;
  CHECK(state.added_neutral.si() == 0.2);
  const double y1 = 1 / (0.05 + 24.0 * 5 / 29);
  const double y2 = 1 / 24.05;
  const double shift = 120 * (y1 - y2) / (y1 + y2 + 1 / 0.25);
  CHECK(matches_printed(shift, "5.5285"));
  CHECK(close(row_of(state.outlets, "Two").during.si(), (120 + shift) * 24 / 24.05, 1e-9));
}

// 0.707 + j0.707 of 5 ohms: 120 V behind 0.05 + 0.05 ohm and nothing else on.
TEST_CASE("motor starts: power factor 0.707 where none is stated") {
  std::string text(kHouse);
  for (std::size_t at = text.find("ohms = 24\n"); at != std::string::npos;
       at = text.find("ohms = 24\n", at + 1)) {
    text.replace(at, 10, "ohms = 24\non = false\n");
  }
  const DescribedAudit found = audit_of(text + "at = \"Well\"\nstarting_amps = 24\n");
  const MotorStart& start = found.audit.motor_starts[0];
  CHECK(matches_printed(start.power_factor, "0.707"));
  const double part = 5 / std::sqrt(2.0);
  const double amps = 120 / std::hypot(part + 0.1, part);
  CHECK(close(start.sound.amps.si(), amps, 1e-9));
}

// Pst by the table at 0.4 changes a minute, 12 starts an hour: 1.951 / 4.062.
TEST_CASE("motor starts: flicker by table and formula") {
  const DescribedAudit found = with_motor(kOnOneLeg + "starts_per_hour = 12\n");
  const auto& flicker = found.audit.motor_starts[0].sound.flicker;
  REQUIRE(flicker.has_value());
  CHECK(matches_printed(flicker->changes_per_minute, "0.4"));
  CHECK(matches_printed(flicker->by_table.value_or(0), "0.480"));
  CHECK_FALSE(flicker->rare);
  // The formula on 1.951 % brought to a 230 V lamp, 1.951 x 3.540 / 4.062 = 1.7002 %: 2.3
  // x 1.7002^3.2 = 12.565 s, four of them in 600 s: (0.083765)^(1/3.2) = 0.461.
  CHECK(matches_printed(flicker->by_formula.value_or(0), "0.461"));
}

TEST_CASE("motor starts: no flicker without starts, none of rare ones, and no formula too close") {
  CHECK_FALSE(with_motor(kOnOneLeg).audit.motor_starts[0].sound.flicker.has_value());
  const DescribedAudit rare = with_motor(kOnOneLeg + "starts_per_hour = 0.4\n");
  CHECK(rare.audit.motor_starts[0].sound.flicker->rare);
  const DescribedAudit often = with_motor(kOnOneLeg + "starts_per_hour = 3600\n");
  CHECK_FALSE(often.audit.motor_starts[0].sound.flicker->by_formula.has_value());
  CHECK(often.audit.motor_starts[0].sound.flicker->by_table.has_value());
}

TEST_CASE("motor starts: by code letter, and the open end of V") {
  const DescribedAudit g = with_motor("at = \"Well\"\ncode_letter = \"G\"\nhorsepower = 1\n");
  CHECK(matches_printed(g.audit.motor_starts[0].locked_rotor, "52.4"));
  CHECK_FALSE(g.audit.motor_starts[0].at_least);
  const DescribedAudit v = with_motor("at = \"Well\"\ncode_letter = \"V\"\nhorsepower = 0.5\n");
  CHECK(matches_printed(v.audit.motor_starts[0].locked_rotor, "93.3"));  // 1000 x 22.4 x 0.5 / 120
  CHECK(v.audit.motor_starts[0].at_least);
}

TEST_CASE("motor starts: what never runs with the motor is off before it starts") {
  const DescribedAudit found =
      with_motor(kOnOneLeg +
                 "noncoincident = \"one of two\"\n[[load]]\nname = \"Heater\"\nat = \"Two\"\n"
                 "ohms = 6\nnoncoincident = \"one of two\"\n");
  // As without the heater: nothing through the neutral before.
  CHECK(
      matches_printed(row_of(found.audit.motor_starts[0].sound.outlets, "One").before, "119.7505"));
}

TEST_CASE("motor starts: a motor that is on as found is off before it starts") {
  std::string text(kHouse);
  text.replace(text.rfind("on = false"), 10, "on = true");
  const DescribedAudit found = audit_of(text + kOnOneLeg);
  CHECK(
      matches_printed(row_of(found.audit.motor_starts[0].sound.outlets, "One").before, "119.7505"));
}

TEST_CASE("motor starts: loads without starting data or that never run do not start") {
  CHECK(with_motor("at = \"Well\"\n").audit.motor_starts.empty());
  CHECK(with_motor(kOnOneLeg + "switching = \"always off\"\n").audit.motor_starts.empty());
}

// 24 A through 0.0005 + 0.0005 ohm: 0.02 % on one leg and 0.01 % on the other.
TEST_CASE("motor starts: changes below the smallest of the flicker table count as not seen") {
  std::string text(kHouse);
  text.replace(text.find("hot_ohms = 0.05, neutral_ohms = 0.05"), 36,
               "hot_ohms = 0.0005, neutral_ohms = 0.0005");
  const DescribedAudit found = audit_of(text + kOnOneLeg);
  const MotorStart& start = found.audit.motor_starts[0];
  CHECK(start.seen_from_percent == 0.35);
  CHECK(start.sound.verdict == StartVerdict::NothingSeen);
  CHECK(start.degraded.verdict == StartVerdict::DimsAndBrightens);
}

}  // namespace
}  // namespace evenleg
