// Source: C. K. Alexander, M. N. O. Sadiku, Fundamentals of Electric Circuits, 5th edition, example
// 12.10: 120 V, phases abc, j5, 10 and -j10 ohms in star, no neutral. Inputs as stored in a
// published companion of the book; the answers, 56.78 A, 25.46 A at 135 degrees and 42.75 A at
// -155.1 degrees, are from memory. A load without resistance is no load of a house, so the network
// is made by hand.
//
// By hand: the neutral point stands at (120/j5 + 12 @ -120 - 120 @ 120 / j10) / (0.1 - j0.1)
// = 120 - j283.92 V, so A has j283.92 V and 283.92/5 = 56.785 A at 0 degrees; B has
// -180 + j180 V, 25.456 A at 135 degrees; C is minus their sum, -38.785 - j18 A, 42.758 A at
// -155.10 degrees, 427.58 V on 10 ohms: the remembered 42.75 is cut off, not rounded.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

TEST_CASE("Alexander, Sadiku, example 12.10: reactive loads far above the line volts") {
  Model model;
  model.source = {120.0, std::polar(120.0, radians(-120)), std::polar(120.0, radians(120))};
  model.source_impedance = Matrix::Zero(3, 3);
  model.panels = {{-1, {0, 1, 2}, {}}};
  model.loads.resize(3);
  for (int leg : {0, 1, 2}) {
    model.cables.push_back({{{leg, 0, leg}}, 0, {{-1, {0}, {}, {}}, {0, {0}, {}, {leg}}}, {leg}});
    model.loads[static_cast<std::size_t>(leg)].cable = leg;
    model.loads[static_cast<std::size_t>(leg)].box = 1;
  }
  const Complex j(0, 1);
  const std::vector<Complex> y = {1.0 / (5.0 * j), 0.1, 1.0 / (-10.0 * j)};
  const NeutralFault open{{"service", PlaceKind::Service, 0, -1, -1}, kOpen};
  for (const auto engine : {solve, solve_sparse}) {
    const Solution solved = engine(model, y, open);
    CHECK(matches_printed(std::abs(solved.load_amps[0]), "56.78"));
    CHECK(matches_printed_angle(solved.load_amps[0], "0"));
    CHECK(matches_printed(std::abs(solved.load_amps[1]), "25.46"));
    CHECK(matches_printed_angle(solved.load_amps[1], "135"));
    CHECK_FALSE(matches_printed(std::abs(solved.load_amps[2]), "42.75"));
    CHECK(matches_printed(std::abs(solved.load_amps[2]), "42.758"));
    CHECK(matches_printed_angle(solved.load_amps[2], "-155.1"));
    CHECK(matches_printed(std::abs(solved.load_volts[2]), "427.58"));
  }
}

}  // namespace
}  // namespace evenleg
