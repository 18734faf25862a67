#include "evenleg/report/behaviour_text.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/report/sample_audit.h"

namespace evenleg {
namespace {

bool says(const std::string& text, std::string_view words) {
  return text.find(words) != std::string::npos;
}

BehavingLoad seen(int load, double v, LoadStatus status = LoadStatus::Running) {
  return {load, volts(v), status, false, false};
}

BehaviourResult sample_result() {
  BehaviourResult result;
  result.any_law = result.connected = true;
  CascadeStep first;
  first.changes = {{kKettle, LoadStatus::LockedOut},
                   {kKettle, LoadStatus::Running},
                   {kKettle, LoadStatus::LockedOut}};
  first.ran_away = true;
  first.end = CascadeEnd::Cycles;
  first.loads = {seen(kKettle, 240), seen(kLamp, 231.5)};
  CascadeStep second;
  second.cause = CascadeCause::Failed;
  second.load = kKettle;
  second.end = CascadeEnd::Floats;
  second.loads = {seen(kKettle, std::nan(""), LoadStatus::FailedOpen),
                  seen(kLamp, std::nan(""), LoadStatus::LockedOut)};
  result.cascade = {first, second};
  return result;
}

TEST_CASE("behaviour text: no balance point, cycling and floating are said plainly") {
  const SampleAudit sample = sample_audit();
  const std::string text = behaviour_text(sample.house, sample.tables, sample_result());
  CHECK(says(text, "There is no balance point"));
  CHECK(says(text, "drop out: \"Kettle\"."));
  CHECK(says(text, "It does not come to rest"));
  CHECK(says(text, "\"Kettle\" would fail open, at 240 V"));
  CHECK(says(text, "floats"));
  CHECK(says(text, "232"));  // 231.5 to three digits
  CHECK(says(text, "locked out"));
  CHECK_FALSE(says(text, "nan"));
}

// One load alone has no way back: its neutral follows its leg.
TEST_CASE("behaviour text: where nothing holds the neutral it is not for want of a balance") {
  const SampleAudit sample = sample_audit();
  BehaviourResult result = sample_result();
  result.cascade.pop_back();
  result.cascade.front().end = CascadeEnd::Floats;
  const std::string text = behaviour_text(sample.house, sample.tables, result);
  CHECK(says(text, "No balance point: nothing that draws holds the neutral."));
  CHECK_FALSE(says(text, "in no way"));
}

TEST_CASE("behaviour text: points that do not hold, and those that do") {
  const SampleAudit sample = sample_audit();
  BehaviourResult result = sample_result();
  BalancePoint point;
  point.loads = {seen(kKettle, 80), seen(kLamp, 160)};
  result.points = {point};
  CHECK(says(behaviour_text(sample.house, sample.tables, result), "no state is stable"));
  result.points[0].stable = true;
  CHECK(says(behaviour_text(sample.house, sample.tables, result), "and it holds"));
  CHECK(says(behaviour_text(sample.house, sample.tables, result, true), "Balance point 1, holds"));
}

TEST_CASE("behaviour text: nothing on, and constant impedances alone") {
  const SampleAudit sample = sample_audit();
  BehaviourResult result;
  CHECK(says(behaviour_text(sample.house, sample.tables, result), "No load beyond it is on"));
  result.connected = true;
  CHECK(says(behaviour_text(sample.house, sample.tables, result), "constant impedance"));
}

TEST_CASE("behaviour text: within the page") {
  const SampleAudit sample = sample_audit();
  const std::string text = behaviour_text(sample.house, sample.tables, sample_result(), true);
  constexpr std::size_t kPage = 100;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = text.find('\n', from);
    CHECK(end - from <= kPage);
    from = end + 1;
  }
}

}  // namespace
}  // namespace evenleg
