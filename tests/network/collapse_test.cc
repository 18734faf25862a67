// A cable reduced to its panel end, against formulas worked out by hand beside each case.
#include "evenleg/network/collapse.h"

#include <doctest/doctest.h>

#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-12;

CableVector volts_of(std::initializer_list<Complex> values) {
  CableVector p(static_cast<Eigen::Index>(values.size()));
  Eigen::Index row = 0;
  for (const Complex& value : values) p(row++) = value;
  return p;
}

LoadModel to_neutral(int box, int hot) {
  LoadModel load;
  load.box = box;
  load.from = hot;
  return load;
}
LoadModel across(int box, int from, int to) {
  LoadModel load = to_neutral(box, from);
  load.to = to;
  return load;
}

NeutralFault fault_at(int box, double ohms) {
  return {{"shared", PlaceKind::SharedRun, 0, 0, box}, ohms};
}

// One hot and a neutral: 0.5 ohm out, 0.25 ohm back, 10 ohms at the end.
struct OneLoad {
  CableModel cable{{{0, 0, 0}}, 0, {{-1, {0}, {}, {}}, {0, {0}, {0.5, 0.25}, {0}}}, {0}};
  std::vector<LoadModel> loads{to_neutral(1, 0)};
  std::vector<Complex> y{0.1};
};

TEST_CASE("collapse: one load is its series resistance") {
  const OneLoad one;
  const CableReduction reduced(one.cable, one.loads, one.y, std::nullopt);
  // 1 / (0.5 + 0.25 + 10) S; on 107.5 V 10 A, so 100 V at the load and 2.5 V on its neutral.
  CHECK(close(reduced.admittance()(0, 0), 1 / 10.75, kExact));
  CHECK(reduced.reaches_neutral());
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({107.5}));
  CHECK(close(boxes[1].hot_to_neutral(0), 100.0, 1e-10));
  CHECK(close(boxes[1].neutral_rise, 2.5, 1e-10));
  CHECK_FALSE(boxes[1].isolated);
}

TEST_CASE("collapse: ohms added in the neutral are in series with it") {
  const OneLoad one;
  const CableReduction reduced(one.cable, one.loads, one.y, fault_at(1, 9.25));
  // 1 / (0.5 + 0.25 + 9.25 + 10) S; on 100 V 5 A, so 50 V at the load, 9.5 x 5 V on its neutral.
  CHECK(close(reduced.admittance()(0, 0), 1 / 20.0, kExact));
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({100}));
  CHECK(close(boxes[1].hot_to_neutral(0), 50.0, 1e-10));
  CHECK(close(boxes[1].neutral_rise, 47.5, 1e-10));
}

TEST_CASE("collapse: one load beyond an open neutral carries nothing") {
  const OneLoad one;
  const CableReduction reduced(one.cable, one.loads, one.y, fault_at(1, kOpen));
  CHECK(close(reduced.admittance()(0, 0), 0.0, kExact));
  CHECK_FALSE(reduced.reaches_neutral());
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({120}));
  // The load still joins hot and neutral: 0 V across it, the neutral at the hot's 120 V.
  CHECK(close(boxes[1].hot_to_neutral(0), 0.0, 1e-10));
  CHECK(close(boxes[1].neutral_rise, 120.0, 1e-10));
  CHECK_FALSE(boxes[1].isolated);
}

TEST_CASE("collapse: beyond an open neutral with nothing on, the neutral is isolated") {
  const OneLoad one;
  const CableReduction reduced(one.cable, one.loads, std::vector<Complex>{0.0}, fault_at(1, kOpen));
  CHECK(reduced.admittance()(0, 0) == Complex{});
  CHECK(reduced.expand(volts_of({120}))[1].isolated);
}

// A multiwire on +120 V and -120 V: a shared run to box 1 and a further length to box 2, 0.5 ohm in
// each hot and 0.25 ohm in each neutral.
//   box 1: 20 ohms on the first hot, 60 ohms on the second
//   box 2: 40 ohms on the first hot, 24 ohms on the second
struct TwoBoxes {
  CableModel cable{
      {{0, 0, 0}, {1, 0, 1}},
      0,
      {{-1, {0, 1}, {}, {}}, {0, {0, 1}, {0.5, 0.25}, {0, 1}}, {1, {0, 1}, {0.5, 0.25}, {2, 3}}},
      {0, 1, 2, 3}};
  std::vector<LoadModel> loads{to_neutral(1, 0), to_neutral(1, 1), to_neutral(2, 0),
                               to_neutral(2, 1)};
  std::vector<Complex> y{1.0 / 20, 1.0 / 60, 1.0 / 40, 1.0 / 24};
};

// Without the conductors' resistance, the neutral of the shared run gone:
//   g1 = 1/20 + 1/40 = 3/40 S against g2 = 1/60 + 1/24 = 7/120 S, so of 240 V the first side has
//   240 g2 / (g1 + g2) = 240 (7/120) / (16/120) = 105 V and the second 135 V.
//   At the panel both are in series: g1 g2 / (g1 + g2) = (9/120)(7/120)/(16/120) = 63/1920 S.
TEST_CASE("collapse: a multiwire broken at its shared run divides 240 V") {
  TwoBoxes two;
  for (BoxModel& box : two.cable.boxes) box.run = {};
  const CableReduction reduced(two.cable, two.loads, two.y, fault_at(1, kOpen));
  const double series = 63.0 / 1920;
  CHECK(close(reduced.admittance()(0, 0), series, kExact));
  CHECK(close(reduced.admittance()(0, 1), -series, kExact));
  CHECK(close(reduced.admittance()(1, 1), series, kExact));
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({120, -120}));
  for (std::size_t b : {1U, 2U}) {
    CAPTURE(b);
    CHECK(close(boxes[b].hot_to_neutral(0), 105.0, 1e-10));
    CHECK(close(boxes[b].hot_to_neutral(1), -135.0, 1e-10));
    CHECK(close(boxes[b].neutral_rise, 15.0, 1e-10));
  }
}

// The same broken between the boxes: box 1 keeps its 120 V, and beyond 40 and 24 ohms share 240 V
// as 150 V to 90 V. At the panel box 1 is 1/20 and 1/60 S to neutral, box 2 1/64 S across.
TEST_CASE("collapse: a multiwire broken between its boxes leaves the first box alone") {
  TwoBoxes two;
  for (BoxModel& box : two.cable.boxes) box.run = {};
  const CableReduction reduced(two.cable, two.loads, two.y, fault_at(2, kOpen));
  CHECK(close(reduced.admittance()(0, 0), 1.0 / 20 + 1.0 / 64, kExact));
  CHECK(close(reduced.admittance()(1, 1), 1.0 / 60 + 1.0 / 64, kExact));
  CHECK(close(reduced.admittance()(0, 1), -1.0 / 64, kExact));
  CHECK(reduced.reaches_neutral());
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({120, -120}));
  CHECK(close(boxes[1].hot_to_neutral(0), 120.0, 1e-10));
  CHECK(close(boxes[1].hot_to_neutral(1), -120.0, 1e-10));
  CHECK(close(boxes[2].hot_to_neutral(0), 150.0, 1e-10));
  CHECK(close(boxes[2].hot_to_neutral(1), -90.0, 1e-10));
  CHECK(close(boxes[2].neutral_rise, -30.0, 1e-10));
}

// With resistance, broken between the boxes and nothing on in box 1: one loop of 0.5 + 0.5 + 40 +
// 24 + 0.5 + 0.5 = 66 ohms on 240 V, 40/11 A. 40 ohms have 1600/11 V, 24 ohms 960/11 V. Box 1, half
// an ohm on, has 120 - 20/11 = 1300/11 V on each hot and no current in its neutral.
TEST_CASE("collapse: hots' resistance joins the loop through an open neutral") {
  TwoBoxes two;
  two.y[0] = two.y[1] = 0;
  const CableReduction reduced(two.cable, two.loads, two.y, fault_at(2, kOpen));
  CHECK(close(reduced.admittance()(0, 0), 1.0 / 66, kExact));
  CHECK(close(reduced.admittance()(1, 0), -1.0 / 66, kExact));
  CHECK_FALSE(reduced.reaches_neutral());
  const std::vector<BoxVolts> boxes = reduced.expand(volts_of({120, -120}));
  CHECK(close(boxes[1].hot_to_neutral(0), 1300.0 / 11, 1e-10));
  CHECK(close(boxes[1].neutral_rise, 0.0, 1e-10));
  CHECK(close(boxes[2].hot_to_neutral(0), 1600.0 / 11, 1e-10));
  CHECK(close(boxes[2].hot_to_neutral(1), -960.0 / 11, 1e-10));
}

// Loads across both hots: 24 ohms at the end of 0.5 ohm in each hot are 25 ohms, whatever the
// neutral does, and do not join the neutral to anything.
TEST_CASE("collapse: a load across does not use the neutral") {
  const CableModel cable{
      {{0, 0, 0}, {0, 0, 1}}, 0, {{-1, {0, 1}, {}, {}}, {0, {0, 1}, {0.5, 0.25}, {0}}}, {0}};
  const std::vector<LoadModel> loads{across(1, 0, 1)};
  const std::vector<Complex> y{1.0 / 24};
  for (const std::optional<NeutralFault>& fault :
       {std::optional<NeutralFault>{}, std::optional(fault_at(1, kOpen))}) {
    CAPTURE(fault.has_value());
    const CableReduction reduced(cable, loads, y, fault);
    CHECK(close(reduced.admittance()(0, 0), 1.0 / 25, kExact));
    CHECK(close(reduced.admittance()(0, 1), -1.0 / 25, kExact));
    CHECK_FALSE(reduced.reaches_neutral());
    CHECK(reduced.expand(volts_of({120, -120}))[1].isolated == fault.has_value());
  }
}

}  // namespace
}  // namespace evenleg
