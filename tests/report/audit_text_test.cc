#include "evenleg/report/audit_text.h"

#include <doctest/doctest.h>

#include <limits>
#include <sstream>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "tests/report/sample_audit.h"
#include "tests/report/said.h"

namespace evenleg {
namespace {

std::string text_of(const SampleAudit& sample, const AuditTextOptions& options = {}) {
  return audit_text(sample.house, sample.tables, sample.audit, options);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

// The line that starts with `start` after its indent; "" when there is none.
std::string line_starting(const std::string& text, std::string_view start) {
  for (const std::string& line : lines_of(text)) {
    const std::size_t at = line.find_first_not_of(' ');
    if (at != std::string::npos && line.compare(at, start.size(), start) == 0) return line;
  }
  return "";
}

Extreme<Volts>& lamp_highest(SampleAudit& sample, std::size_t place) {
  return *sample.audit.open_neutral[place].loads[kLamp].highest;
}

}  // namespace

// The figures are those worked out in sample_audit.h; the layout is ours.
TEST_CASE("audit text: the first lines say what matters and why") {
  const SampleAudit sample = sample_audit();
  CHECK(audit_head(sample.house, sample.tables, sample.audit, 2) ==
        R"(Audit of Fernhill Cottage, 120/240 split-phase

  If a neutral opened, 1 of 3 loads could be past what it withstands: 1 with the service neutral
  open and 1 with the shared neutral of "Kitchen counter" open.
  Worst: if the service neutral opens, "Reading lamp" (Snug) could see 230 V; it withstands 132 V.
  That takes "Kettle" and "Reading lamp" on, and all else off.
  Wiring findings: 1 danger, 1 caution and 0 notes. As found, the service neutral carries 11.5 A.

Worst first: each load where an open neutral hits it hardest
  #  load          outlet   open at     V  limit V  over       severity  on  with
  -  ------------  -------  -------  ----  -------  ----  -------------  --  ------------
  1  Reading lamp  Snug     service   230      132  1.75  damage likely   2  Kettle
  2  Iron          Worktop  service  11.4      126  0.09  within limits   2  Reading lamp
  and 1 more
  V: the most that the load could see with that neutral open, over the credible states in which it
  is on. limit V: what it is taken to withstand without end. over: the first over the second. on,
  with: how many loads run then, and the largest of the others.
)");
}

TEST_CASE("audit text: dangers come before cautions, each with its source") {
  const std::string text = text_of(sample_audit());
  const std::size_t danger = text.find("danger: same-leg multiwire, Kitchen counter\n");
  const std::size_t caution = text.find("caution: separate disconnects, Kitchen counter\n");
  REQUIRE(danger != std::string::npos);
  REQUIRE(caution != std::string::npos);
  CHECK(danger < caution);
  CHECK(has(text, "    Its breakers are not tied. [1]\n"));
  CHECK(has(text, "  [1] A code\n"));
}

TEST_CASE("audit text: a finding in parts is a block that can be pasted, source included") {
  SampleAudit sample = sample_audit();
  WiringFinding& finding = sample.audit.findings[1];
  finding.source = "Another code: 1.2(A) (2023)";
  finding.observation = "Both circuits sit on L1.";
  finding.implication = "Their currents add.";
  finding.recommendation = "Have it looked at.";
  const std::string text = text_of(sample);
  CHECK(has(text,
            "  danger: same-leg multiwire, Kitchen counter\n"
            "    Observation: Both circuits sit on L1.\n"
            "    Implication: Their currents add.\n"
            "    Recommendation: Have it looked at.\n"
            "    Source: Another code: 1.2(A) (2023)\n"));
  CHECK(says(text, "What is not described was not looked at."));
  finding.source.clear();
  CHECK_FALSE(has(text_of(sample), "Source:"));
}

TEST_CASE("audit text: legs and neutrals as found") {
  const std::string text = text_of(sample_audit());
  CHECK(line_starting(text, "L2 ") == "  L2   0.500                              120");
  CHECK(has(text, "  2 of 3 loads are on.\n"));
  CHECK(has(text,
            "service          service           11.5       12.0        -     -        -          "
            "Kettle"));
  // 12.0 / 20.
  CHECK(has(text,
            "Kitchen counter  shared run        11.5       12.0     20.0  0.60        -  [1]     "
            "Kettle"));
  CHECK(says(text, "Beside the service neutral, 0.250 A come back through the earth return."));
}

TEST_CASE("audit text: without an earth return nothing is said of it") {
  SampleAudit sample = sample_audit();
  sample.house.service->earth_return_ohms.reset();
  CHECK_FALSE(has(text_of(sample), "earth return"));
}

TEST_CASE("audit text: a place in full has loads, empty outlets and the shift of its neutral") {
  const std::string text = text_of(sample_audit(), {.all = true, .scenario = {}});
  const std::string place = text.substr(text.find("If the shared neutral of \"Kitchen counter\""));
  CHECK(says(place, "the neutral beyond the break would stand 110 V off the source's neutral"));
  CHECK(line_starting(place, "Reading lamp") ==
        "  Reading lamp  Snug            230         0        230      132");
  CHECK(line_starting(place, "Iron") ==
        "  Iron          Worktop           -         0       11.4      126");
  CHECK(line_starting(place, "Spare") == "  Spare                L2-N            0        240");
}

TEST_CASE("audit text: only the limits on this supply's base are listed, with their source") {
  const std::string text = text_of(sample_audit());
  CHECK(line_starting(text, "114 ") == "   114  126  service                              Here   [3]");
  CHECK_FALSE(has(text, "Elsewhere"));
  CHECK(has(text, "  [3] A standard, table 1 (2016); read: at source\n"));
  CHECK(has(text, "its own max_volts, as described: 1"));
}

TEST_CASE("audit text: without limits on its base it says so") {
  SampleAudit sample = sample_audit();
  sample.tables.systems[0].nominal_volts = 127;
  CHECK(says(text_of(sample), "The tables hold no supply voltage limits for 127 V to neutral."));
}

TEST_CASE("audit text: an unproven extreme shows its bound and what the mark means") {
  SampleAudit sample = sample_audit();
  lamp_highest(sample, 0).proven = false;
  lamp_highest(sample, 0).bound = volts(240);
  const std::string text = text_of(sample);
  CHECK(says(text, "at least 1 of 3 loads could be past"));
  CHECK(says(text, "could see 230 V or more, at most 240 V;"));
  CHECK(has(line_starting(text, "1 "), "230 ?"));
  const std::string place = text.substr(text.find("If the service neutral opens"));
  CHECK(has(line_starting(place, "Reading lamp"), "230 (≤ 240)"));
  CHECK(says(text, "no credible state exceeds 240 V"));
  CHECK_FALSE(has(text_of(sample_audit()), "(≤"));
}

TEST_CASE("audit text: an unproven lowest figure shows its bound from below") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].loads[kKettle].lowest = {volts(5), volts(3), false, {kKettle}};
  CHECK(has(text_of(sample), "5.00 (≥ 3.00)"));
}

TEST_CASE("audit text: without proof every extreme is marked") {
  SampleAudit sample = sample_audit();
  sample.audit.certified = false;
  const std::string text = text_of(sample, {.all = true, .scenario = {}});
  CHECK(has(lines_of(text).front(), "searched without proof"));
  CHECK(says(text, "could see 230 V or more;"));
  CHECK(has(line_starting(text, "1 "), "230 ?"));
  CHECK(has(line_starting(text, "Spare"), "240 ?"));
  CHECK(has(line_starting(text, "Kitchen counter"), "12.0 ?"));
  CHECK(says(text, "?: found, not proven; a credible state may go further."));
}

TEST_CASE("audit text: when nothing is past its limit it says how far that is known") {
  SampleAudit sample = sample_audit();
  for (std::size_t place : {0U, 1U}) {
    lamp_highest(sample, place) = {volts(125), volts(125), true, {kLamp}};
  }
  sample.audit.ranking[0].volts = volts(125);
  sample.audit.ranking[0].over = 0.947;
  CHECK(says(text_of(sample), "As described, no credible state takes a load past"));
  CHECK(says(text_of(sample), "Nearest: if the service neutral opens, \"Reading lamp\" (Snug)"));
  lamp_highest(sample, 1).proven = false;
  lamp_highest(sample, 1).bound = volts(140);
  CHECK(says(text_of(sample), "it is not proven that there is none."));
}

TEST_CASE("audit text: a device that would open first is named") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].protected_by = "Main";
  const std::string text = text_of(sample);
  CHECK(says(text, "The neutral-loss device of \"Main\" would open first"));
  CHECK(has(line_starting(text, "1 "), "service *"));
}

TEST_CASE("audit text: three places in full and the others in a line, all with `all`") {
  SampleAudit sample = sample_audit();
  for (const char* name : {"Box two", "Box three"}) {
    OpenNeutral open = sample.audit.open_neutral[0];
    open.place = {name, PlaceKind::SharedLength, 0, 0, 2};
    open.loads[kLamp].highest->value = volts(100);
    sample.audit.open_neutral.push_back(open);
  }
  const std::string text = text_of(sample);
  CHECK(has(text, "\nIf the shared neutral into \"Box two\" opens\n"));
  CHECK_FALSE(has(text, "\nIf the shared neutral into \"Box three\" opens\n"));
  const std::string line = line_starting(text, "Box three");
  CHECK(has(line, "shared length"));
  CHECK(has(line, "Reading lamp"));
  const std::string all = text_of(sample, {true, {}});
  CHECK(has(all, "\nIf the shared neutral into \"Box three\" opens\n"));
  CHECK_FALSE(has(all, "The other places"));
}

TEST_CASE("audit text: the place that puts most loads past their limits comes first") {
  SampleAudit sample = sample_audit();
  lamp_highest(sample, 0).value = volts(131);
  const std::string text = text_of(sample);
  CHECK(text.find("If the shared neutral of \"Kitchen counter\" opens\n") <
        text.find("If the service neutral opens\n"));
}

TEST_CASE("audit text: what runs is counted, and the largest other load named") {
  SampleAudit sample = sample_audit();
  sample.audit.ranking[0].on = {kKettle, kLamp, kIron};  // 1440 W goes before 1200 W
  CHECK(has(line_starting(text_of(sample), "1 "), "3  Kettle"));
}

TEST_CASE("audit text: fifteen rows of the ranking, all with `all`") {
  SampleAudit sample = sample_audit();
  while (sample.audit.ranking.size() < 18) {
    sample.audit.ranking.push_back(sample.audit.ranking.back());
  }
  CHECK(has(text_of(sample), "\n  and 3 more\n"));
  CHECK_FALSE(has(text_of(sample, {true, {}}), " more\n"));
}

TEST_CASE("audit text: the scenario that stands for as found is named") {
  CHECK(lines_of(text_of(sample_audit(), {false, "Evening"})).front() ==
        "Audit of Fernhill Cottage, 120/240 split-phase, as in scenario \"Evening\"");
}

TEST_CASE("audit text: solver remains are 0, what is not finite is never printed") {
  SampleAudit sample = sample_audit();
  sample.audit.open_neutral[0].loads[kLamp].lowest->value = volts(3e-14);
  sample.audit.open_neutral[0].neutral_shift = volts(std::numeric_limits<double>::quiet_NaN());
  const std::string text = text_of(sample);
  CHECK_FALSE(has(text, "nan"));
  CHECK_FALSE(has(text, "0.000000"));
}

TEST_CASE("audit text: an audit with nothing in it is still a whole text") {
  SampleAudit sample = sample_audit();
  sample.audit = {};
  const std::string text = text_of(sample);
  CHECK(says(text, "The house as found was not solved"));
  CHECK(has(text, "No load to rank."));
  CHECK(says(text, "What is not described was not looked at."));
  CHECK(says(text, "The local code, the authority having jurisdiction"));
}

TEST_CASE("audit text: no line is wider than the page, whatever the names") {
  SampleAudit sample = sample_audit();
  std::string name;
  for (int i = 0; i < 30; ++i) name += "Größe-";
  for (Load& load : sample.house.loads) load.name = load.at = name;
  for (Outlet& outlet : sample.house.outlets) outlet.name = name;
  for (OpenNeutral& open : sample.audit.open_neutral) open.place.name = name;
  for (NeutralRow& row : sample.audit.neutrals) row.place = name;
  for (WiringFinding& finding : sample.audit.findings) finding.subject = name;
  sample.house.about["name"] = name;
  for (const std::string& line : lines_of(text_of(sample))) {
    CAPTURE(line);
    CHECK(columns(line) <= kPageColumns);
  }
}

}  // namespace evenleg
