// The section on real loads: what it shows of which place, and what it says of the rest.
#include <doctest/doctest.h>

#include <string>

#include "evenleg/report/audit_text.h"
#include "tests/report/sample_audit.h"

namespace evenleg {
namespace {

// One load drops out; a second step, in which the lamp fails, makes a state depart from the rest.
StateBehaviour state(bool as_found, bool departs, double volts_of_lamp) {
  StateBehaviour made;
  made.as_found = as_found;
  made.worst_load = as_found ? -1 : kLamp;
  made.on = {kLamp};
  made.result.any_law = made.result.connected = true;
  BalancePoint point;
  point.stable = true;
  made.result.points = {point};
  CascadeStep step;
  step.loads = {{kLamp, volts(volts_of_lamp), LoadStatus::Running, false, false}};
  made.result.cascade = {step};
  if (departs) {
    step.cause = CascadeCause::Failed;
    step.load = kLamp;
    made.result.cascade.push_back(step);
  }
  return made;
}

// The lamp follows a law in volts, the iron one of its own.
SampleAudit with_laws() {
  SampleAudit sample = sample_audit();
  LoadKind wide = sample.tables.load_kinds.front();
  wide.name = "wide";
  wide.law.name = "wide law";
  wide.law.active_exponent = 0;
  wide.law.limits_in_volts = true;
  wide.law.off_below = 72;
  wide.law.on_above = 90;
  wide.law.fails_above = 264;
  wide.law.fails_after = "seconds";
  LoadKind other = wide;
  other.name = "other";
  other.law.name = "other law";
  sample.tables.load_kinds.push_back(wide);
  sample.tables.load_kinds.push_back(other);
  sample.house.loads[kLamp].kind = "wide";
  sample.house.loads[kIron].kind = "other";
  return sample;
}

// Runs of spaces and line breaks as one space.
std::string flat_text(const SampleAudit& sample, bool all = false) {
  std::string flat;
  for (const char c : audit_text(sample.house, sample.tables, sample.audit, {all, {}})) {
    const char next = c == '\n' ? ' ' : c;
    if (next != ' ' || flat.empty() || flat.back() != ' ') flat += next;
  }
  return flat;
}

bool says(const std::string& text, std::string_view words) {
  CAPTURE(text);
  return text.find(words) != std::string::npos;
}

TEST_CASE(
    "behaviour section: only the laws of loads that were part of it, limits in volts as such") {
  SampleAudit sample = with_laws();
  sample.audit.open_neutral[0].behaviour = {state(true, true, 150)};
  CHECK(says(flat_text(sample), "off below 72.0 V; on above 90.0 V; opens above 264 V after"));
  CHECK_FALSE(says(flat_text(sample), "other law:"));
  sample.house.loads[kLamp].ohms = 240;  // a resistance, whatever its kind
  CHECK_FALSE(says(flat_text(sample), "wide law:"));
}

TEST_CASE("behaviour section: what is not shown is counted, state by state") {
  SampleAudit sample = with_laws();
  std::vector<OpenNeutral>& open = sample.audit.open_neutral;
  open[0].behaviour = {state(true, true, 150), state(false, true, 160)};
  const std::string one = flat_text(sample);
  CHECK(says(one, "as found:"));
  CHECK(says(one, "1 more place or state departs from the reference"));
  CHECK(says(one, "The order of failures is by how far past its limit each load is, not by time."));
  open[1].behaviour = {state(true, true, 150)};  // the same once more
  CHECK(says(flat_text(sample), "2 more places or states depart from the reference"));
  const std::string all = flat_text(sample, true);
  CHECK(says(all, "in the state of 1 load that takes \"Reading lamp\" highest"));
  CHECK_FALSE(says(all, "more places or states"));
}

TEST_CASE("behaviour section: where nothing departs it is no all-clear") {
  SampleAudit sample = with_laws();
  sample.audit.open_neutral[0].behaviour = {state(true, false, 125)};
  CHECK(says(flat_text(sample),
             "At 1 place, as found and in the worst state, these laws show no load dropping out, "
             "stalling or failing; the volts and limits above still stand."));
  sample.audit.open_neutral[1].behaviour = {state(true, true, 150)};
  CHECK(says(flat_text(sample), "At 1 other place, as found"));
}

TEST_CASE("behaviour section: a neutral-loss device is named where it would open first") {
  SampleAudit sample = with_laws();
  sample.audit.open_neutral[0].behaviour = {state(true, true, 150)};
  constexpr std::string_view kWithout =
      "The neutral-loss device of \"Main\" would open first in some state; what follows is without "
      "it.";
  CHECK_FALSE(says(flat_text(sample), kWithout));
  sample.audit.open_neutral[0].protected_by = "Main";
  CHECK(says(flat_text(sample), kWithout));
}

}  // namespace
}  // namespace evenleg
