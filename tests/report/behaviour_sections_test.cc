// Harmonics and motor starts in the text and in the JSON object, from results put together by hand.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_json.h"
#include "evenleg/report/audit_text.h"
#include "tests/report/sample_audit.h"
#include "tests/report/said.h"

namespace evenleg {
namespace {

HarmonicCurrent current(double first, double third, double eleventh) {
  HarmonicCurrent made;
  const std::vector<double> by_order{first, third, eleventh};
  made.rms = amps(total_rms(by_order));
  made.distortion = distortion(by_order);
  made.orders = {{1, amps(first)}, {3, amps(third)}, {11, amps(eleventh)}};
  return made;
}

SampleAudit with_harmonics() {
  SampleAudit sample = sample_audit();
  Harmonics harmonics;
  harmonics.legs = {{current(12, 0, 0), 0.0, 0.021}, {current(0.5, 0.3, 0.4), 0.0, {}}};
  for (std::size_t i = 0; i < sample.audit.neutrals.size(); ++i) {
    harmonics.neutrals.push_back(current(0, 3, 4));
  }
  harmonics.degraded_neutral = ohms(0.5);
  harmonics.loads = {kLamp};
  harmonics.sources = {{"A spectrum", "2026", "table", "1 %", "from memory"}};
  sample.audit.harmonics = harmonics;
  return sample;
}

StartState state(double added, double fall, double rise, StartVerdict verdict) {
  StartState made;
  made.added_neutral = ohms(added);
  made.amps = amps(23.5);
  DipRow snug{"Snug", "L2-N", volts(120), volts(120 * (1 + rise / 100)), -rise, false, 1};
  DipRow worktop{"Worktop", "L1-N", volts(120), volts(120 * (1 - fall / 100)), fall, false, 0};
  DipRow own{"Spare", "L1-N", volts(120), volts(108), 10, true, 2};
  made.outlets = {own, worktop, snug};
  made.legs = {{"Main", "L1-N", volts(120), volts(114), 5, false, 0}};
  made.change_percent = fall;
  made.limits_passed = fall > 4 ? std::vector<double>{4} : std::vector<double>{};
  made.verdict = verdict;
  made.flicker = StartFlicker{0.4, fall, false, fall / 4.062, {}};
  return made;
}

SampleAudit with_start() {
  SampleAudit sample = sample_audit();
  sample.house.loads[kIron].starts_per_hour = 12;
  FlickerTables& flicker = sample.tables.flicker;
  flicker.points_source = {"A flicker table", "1", "", "", "at source"};
  flicker.change_limits = {{4, "in general"}};
  flicker.change_limits_source = {"A limit", "1", "", "", "from memory"};
  flicker.change_limits_scope = "None at 120 V.";
  sample.tables.motor_starting.code_letter_source = {"Letters", "1", "", "", "second hand"};
  MotorStart start;
  start.load = kIron;
  start.nameplate = volts(120);
  start.locked_rotor = amps(24);
  start.at_least = true;
  start.power_factor = 0.707;
  start.seen_from_percent = 0.35;
  start.sound = state(0, 1.951, 0.2, StartVerdict::DimsOnly);
  start.degraded = state(0.5, 5.5, 4.25, StartVerdict::DimsAndBrightens);
  sample.audit.motor_starts = {start};
  return sample;
}

std::string text_of(const SampleAudit& sample, bool all = false) {
  return audit_text(sample.house, sample.tables, sample.audit, {all, {}});
}

nlohmann::json json_of(const SampleAudit& sample) {
  return nlohmann::json::parse(audit_json(sample.house, sample.tables, sample.audit));
}

void check_width(const std::string& text) {
  std::size_t from = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', from)) {
    CHECK(columns(std::string_view(text).substr(from, end - from)) <= kPageColumns);
    from = end + 1;
  }
}

TEST_CASE("reports: neither section where there is nothing to say") {
  const SampleAudit sample = sample_audit();
  CHECK_FALSE(says(text_of(sample), "Harmonics"));
  CHECK_FALSE(says(text_of(sample), "Motor starts"));
  const nlohmann::json json = json_of(sample);
  CHECK(json["motor_starts"].empty());
  CHECK_FALSE(json["as_found"]["neutrals"][0].contains("rms_amps"));
  CHECK_FALSE(json["as_found"]["legs"][0].contains("harmonics"));
}

// 3 and 4 A are 5 A together; with 0.5 A at the first order, 0.3 and 0.4 A are a distortion of 100
// %.
TEST_CASE("audit text: harmonics by conductor") {
  const std::string text = text_of(with_harmonics());
  check_width(text);
  CHECK(has(text, "\nHarmonics as found, amperes by order\n"));
  CHECK(says(text, "conductor"));
  CHECK(says(text, "L2 0.500 0.707 100.0 0.300 0 0 0 0.400"));
  CHECK(says(text, "neutral: service 0 5.00 - 3.00 0 0 0 4.00"));
  CHECK(says(text, "L1 0.0 % and L2 0.0 %; with 0.500 Ω added in the"));
  CHECK(says(text, "L1 2.1 % and L2 - %."));
  CHECK(says(text, "1 load that is on has a spectrum"));
  CHECK(says(text, "A spectrum"));
}

TEST_CASE("audit JSON: harmonics of legs and neutrals") {
  const nlohmann::json json = json_of(with_harmonics())["as_found"];
  const nlohmann::json& neutral = json["neutrals"][0];
  CHECK(neutral["rms_amps"] == 5);
  CHECK(neutral["thd"].is_null());
  CHECK(neutral["harmonics"][1] == nlohmann::json{{"order", 3}, {"amps", 3.0}});
  CHECK(neutral["amps"] == 11.5);  // the fundamental alone keeps its key
  CHECK(json["legs"][1]["thd"] == 1.0);
  CHECK(json["legs"][0]["degraded_volts_thd"] == 0.021);
  CHECK(json["legs"][1]["degraded_volts_thd"].is_null());
}

TEST_CASE("audit text: motor starts") {
  const std::string text = text_of(with_start());
  check_width(text);
  CHECK(has(text, "\nMotor starts: what the other outlets see\n"));
  CHECK(says(text, "Iron ≥ 23.5 as described 1.95 - 0.48 - dims only"));
  CHECK(says(text, "0.500 Ω added 5.50 4.25 1.35 - dims and brightens"));
  CHECK(says(text, "When \"Iron\" starts (24.0 A at 120 V, power factor 0.707):"));
  CHECK(says(text, "Spare (own)"));
  CHECK(says(text, "Falls at the panels: \"Main\" L1-N 5.00 %; degraded: \"Main\" L1-N 5.00 %."));
  CHECK(says(text, "4 % in general. None at 120 V."));
  CHECK(says(text, "consistent with resistance in a neutral"));
}

// Four motors: those three that change the most have a table.
TEST_CASE("audit text: of many motors the worst are shown in full") {
  SampleAudit sample = with_start();
  std::vector<MotorStart>& starts = sample.audit.motor_starts;
  starts.resize(4, starts[0]);
  starts[0].load = kLamp;
  starts[0].degraded.change_percent = 1;
  const std::string text = text_of(sample);
  CHECK_FALSE(says(text, "When \"Reading lamp\" starts"));
  CHECK(says(text, "When \"Iron\" starts"));
  CHECK(says(text, "The motors that change the most stand above; --all shows each."));
  CHECK(says(text_of(sample, true), "When \"Reading lamp\" starts"));
  CHECK_FALSE(says(text_of(sample, true), "stand above"));
}

// Sources are named where their figure is used: the iron has neither starting amperes nor a power
// factor, then both.
TEST_CASE("audit text: what a start rests on is cited where it is used") {
  SampleAudit sample = with_start();
  CHECK(says(text_of(sample), "Locked rotor by code letter"));
  CHECK(says(text_of(sample), "Power factor where none is stated"));
  sample.house.loads[kIron].starting_amps = 24;
  sample.house.loads[kIron].starting_power_factor = 0.7;
  CHECK_FALSE(says(text_of(sample), "Locked rotor by code letter"));
  CHECK_FALSE(says(text_of(sample), "Power factor where none is stated"));
  CHECK(says(text_of(sample), "Degraded neutral"));
}

// The other outlets' largest change is judged, not that of the motor's own outlet.
TEST_CASE("audit text: a rare start is not judged for flicker") {
  SampleAudit sample = with_start();
  sample.audit.motor_starts[0].sound.flicker->rare = true;
  CHECK(says(text_of(sample), "as described 1.95 - - - dims only"));
}

TEST_CASE("audit JSON: motor starts") {
  const nlohmann::json start = json_of(with_start())["motor_starts"][0];
  CHECK(start["load"] == "Iron");
  CHECK(start["outlet"] == "Worktop");
  CHECK(start["starting_amps"] == 24);
  CHECK(start["at_least"] == true);
  CHECK(start["starts_per_hour"] == 12);
  CHECK(start["degraded"]["added_neutral_ohms"] == 0.5);
  CHECK(start["degraded"]["verdict"] == "dims and brightens");
  CHECK(start["degraded"]["change_limits_passed"] == nlohmann::json{4.0});
  CHECK(start["degraded"]["outlets"][2]["dip_percent"] == -4.25);
  CHECK(start["degraded"]["outlets"][0]["motor_alone"] == true);
  CHECK(start["degraded"]["legs"][0]["panel"] == "Main");
  CHECK(start["sound"]["flicker"]["pst_by_formula"].is_null());
  CHECK(start["sound"]["flicker"]["changes_per_minute"] == 0.4);
}

}  // namespace
}  // namespace evenleg
