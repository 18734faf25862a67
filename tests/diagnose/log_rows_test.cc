// How a log is read: headings, separators, stamps, gaps, clocks, and what is no log.
#include "src/diagnose/log_rows.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "evenleg/base/error.h"
#include "tests/check.h"
#include "tests/diagnose/log_text_of.h"

namespace evenleg {
namespace {

std::vector<Sample> samples_of(std::string_view text, DayOrder dates = DayOrder::Unknown) {
  std::vector<Sample> samples;
  LogRows rows("log.csv", dates, [&](const Sample& sample) { samples.push_back(sample); });
  rows.feed(text);
  rows.finish();
  return samples;
}

std::string refusal(std::string_view text) {
  try {
    (void)samples_of(text);
  } catch (const Error& error) {
    REQUIRE(error.faults().size() == 1);
    CHECK(error.kind() == ErrorKind::Request);
    return line(error.faults().front());
  }
  return "taken";
}

TEST_CASE("log: any order and usual spellings of the headings") {
  for (const std::string heading :
       {"time,L1 V,L2 V,L1 A,L2 A", "Timestamp,l1_n_volts,l2_n_volts,l1_amps,l2_amps",
        "Time,L1-N (V),L2-N (V),L1 (A),L2 (A)", "datetime,V1,V2,I1,I2", "time,UL1,UL2,IL1,IL2",
        "time,Leg A volts,Leg B volts,Leg A amps,Leg B amps",
        "time,V1 [V] avg,V2 [V] avg,I1 [A],I2 [A]",
        "time,Voltage L1,Voltage L2,Current L1,Current L2", "time,Van,Vbn,Ia,Ib",
        "time_utc,V_A,V_B,I_A,I_B", "time,V1 rms,V2 rms,I1 rms,I2 rms",
        "Date/Time,Voltage A (V),Voltage B (V),Current A (A),Current B (A)"}) {
    CAPTURE(heading);
    const auto samples = samples_of(heading + "\n2026-03-14T10:20:00,118.9,122.0,12.1,0.4\n");
    REQUIRE(samples.size() == 1);
    CHECK(samples[0].volts[0] == 118.9);
    CHECK(samples[0].volts[1] == 122.0);
    CHECK(samples[0].amps[0] == 12.1);
    CHECK(samples[0].amps[1] == 0.4);
  }
  const auto shuffled =
      samples_of("L2 A,note,L2 V,time,L1 V\n0.4,x,122.0,2026-03-14 10:20,118.9\n");
  REQUIRE(shuffled.size() == 1);
  CHECK(shuffled[0].volts[0] == 118.9);
  CHECK(std::isnan(shuffled[0].amps[0]));
}

TEST_CASE("log: apparent power, minima and line to line are not taken for a leg's volts") {
  const auto samples = samples_of(
      "time,VA,L1 V min,L1 V,L1-L2 V,L2 V\n2026-03-14T10:20:00,900,110.0,118.9,240.9,122.0\n");
  REQUIRE(samples.size() == 1);
  CHECK(samples[0].volts[0] == 118.9);
  CHECK(samples[0].volts[1] == 122.0);
}

TEST_CASE("log: separators, decimal commas, quotes, marks, lines above the heading") {
  const auto semicolons = samples_of(
      "\xEF\xBB\xBFRecorder 7\r\nserial 12\r\n\r\nDate;Time;L1 V;L2 "
      "V\r\n14.03.2026;10:20:00;118,9;\"122,0\"\r\n");
  REQUIRE(semicolons.size() == 1);
  CHECK(semicolons[0].volts[0] == 118.9);
  CHECK(semicolons[0].volts[1] == 122.0);
  const auto tabs = samples_of("time\tL1 V\tL2 V\n2026-03-14 10:20:00.5\t118.9\t122.0");
  REQUIRE(tabs.size() == 1);  // and without a last line end
}

// Seconds since 1970 of 2026-03-14 10:20:00 UTC, by `date -u -d ... +%s`.
constexpr double kMoment = 1773483600;

TEST_CASE("log: stamps") {
  const auto stamp = [](const std::string& text, DayOrder dates = DayOrder::Unknown) {
    const auto samples = samples_of("time,L1 V,L2 V\n\"" + text + "\",120,120\n", dates);
    return samples.empty() ? -1 : samples[0].order;
  };
  CHECK(stamp("2026-03-14T10:20:00") == kMoment);
  CHECK(stamp("2026-03-14 10:20") == kMoment);
  CHECK(stamp("2026-03-14T10:20:00Z") == kMoment);
  CHECK(stamp("2026-03-14T05:20:00-05:00") == kMoment);
  CHECK(stamp("2026-03-14T15:50:00+0530") == kMoment);
  CHECK(stamp("2026-03-14T10:20:00.25") == kMoment + 0.25);
  CHECK(stamp("14.03.2026 10:20:00") == kMoment);
  CHECK(stamp("03/14/2026 10:20:00 AM") == kMoment);
  CHECK(stamp("3/14/2026 10:20 am") == kMoment);
  CHECK(stamp("03/04/2026 10:20:00", DayOrder::DayFirst) == kMoment + 20 * 86400);
  CHECK(stamp("03/04/2026 10:20:00", DayOrder::MonthFirst) == kMoment - 10 * 86400);
  CHECK(stamp("1773483600") == kMoment);
  CHECK(stamp("1773483600250") == kMoment + 0.25);
  CHECK(stamp("12.5") == 12.5);
  CHECK(refusal("time,L1 V,L2 V\n03/04/2026 10:20:00,120,120\n") ==
        "log.csv:2: the date \"03/04/2026 10:20:00\" can be read with the day or the month first; "
        "add --log-dates day-first or --log-dates month-first");
}

TEST_CASE("log: what no clock and no calendar shows is no time") {
  for (const std::string text :
       {"2026-257-14 10:20", "2026-13-14 10:20", "2026-02-30 10:20", "2026-03-270 10:20",
        "214748364-7-1 10:20", "2026-03-14 25:20", "2026-03-14 10:60", "2026-03-14 10:20:61",
        "2026-03-14 10:20+", "2026-03-14 10:20+01:", "2026-03-14 10:20+24:00",
        "2026-03-14 10:20-01:60", "253402300801000", "-253402300801", "1e300", "-1e300"}) {
    CAPTURE(text);
    CHECK(refusal("time,L1 V,L2 V\n" + text + ",120,120\n").find("no time that can be read") !=
          std::string::npos);
  }
}

TEST_CASE("log: what is none gets one line") {
  CHECK(refusal("") ==
        "log.csv: the log is empty; head its columns, as in \"time,L1 V,L2 V,L1 A,L2 A\"");
  CHECK(refusal("time,L1 V,L2 V\n") ==
        "log.csv: the log has a heading and no rows; record a time and the volts of both legs in "
        "each row");
  CHECK(refusal("time,L1 V\n2026-03-14T10:20:00,120\n").find("no column of the volts of L2") !=
        std::string::npos);
  CHECK(refusal("L1 V,L2 V\n120,120\n").find("no column of times") != std::string::npos);
  CHECK(refusal(std::string(100000, '\0')).find("no column of the volts") != std::string::npos);
  CHECK(refusal(std::string(10U << 20U, 'x')).find("log.csv") == 0);
  CHECK(refusal("time,L1 V,L2 V\nyesterday,120,120\n").find("line 2: no time that can be read") !=
        std::string::npos);
}

TEST_CASE("log: bad rows are counted and the first is named") {
  const LogResult log = analysed(
      "time,L1 V,L2 V\n2026-03-14T10:20:00,120,120\n2026-03-14T10:20:01,,120\n"
      "2026-03-14T10:20:02,120,5000\n2026-03-14T10:20:03,120,120\n2026-03-14T10:20:04,nan,120\n");
  CHECK(log.rows == 2);
  CHECK(log.bad_rows == 3);
  CHECK(log.first_bad_line == 3);
  CHECK(log.first_bad_why == "not the volts of both legs");
}

TEST_CASE("log: gaps, and a clock that goes back an hour") {
  std::string text = "time,L1 V,L2 V\n";
  for (int k = 0; k < 60; ++k) text += fmt::format("2026-11-01 01:{:02}:00,120,120\n", k);
  for (int k = 0; k < 60; ++k) text += fmt::format("2026-11-01 01:{:02}:00,121,121\n", k);
  text += "2026-11-01 05:00:00,120,120\n";
  const LogResult log = analysed(text);
  CHECK(log.rows == 121);
  CHECK(log.clock_back == 1);
  CHECK(log.step_seconds == 60);
  CHECK(log.gaps == 1);
  // From the second 01:59 to 05:00.
  REQUIRE(log.longest_gaps.size() == 1);
  CHECK(log.longest_gaps[0].seconds == 3 * 3600 + 60);
  CHECK(log.by_hour[1].samples == 120);
}

TEST_CASE("log: with zones the order is by UTC, and the hour that of the stamp") {
  const LogResult log = analysed(
      "time,L1 V,L2 V\n2026-11-01T01:30:00-04:00,120,120\n2026-11-01T01:59:00-04:00,120,120\n"
      "2026-11-01T01:00:00-05:00,120,120\n2026-11-01T01:29:00-05:00,120,120\n");
  CHECK(log.rows == 4);
  CHECK(log.clock_back == 0);
  CHECK(log.zones == 2);
  CHECK(log.by_hour[1].samples == 4);
}

TEST_CASE("log: the size of the pieces does not matter") {
  LogRecipe recipe;
  recipe.samples = 2000;
  const std::string text = written_log(recipe);
  const LogResult whole = analysed(text);
  for (const std::size_t piece : {std::size_t{1}, std::size_t{7}, std::size_t{4096}}) {
    const LogResult parts = analysed(text, piece);
    CHECK(parts.rows == whole.rows);
    CHECK(parts.mean[0] == whole.mean[0]);
    CHECK(parts.ohms->rn == whole.ohms->rn);
    CHECK(parts.events.all() == whole.events.all());
    CHECK(*parts.ratio == *whole.ratio);
  }
}

TEST_CASE("log: a line that is too long is no row, however it comes") {
  const std::string text = "time,L1 V,L2 V,note\n1,120,120,\n2,120,120," +
                           std::string(70000, 'x') + "\n3,120,120,\n";
  for (const std::size_t piece : {std::size_t{0}, std::size_t{1}, std::size_t{50000}}) {
    CAPTURE(piece);
    CHECK(analysed(text, piece).rows == 2);
  }
}

}  // namespace
}  // namespace evenleg
