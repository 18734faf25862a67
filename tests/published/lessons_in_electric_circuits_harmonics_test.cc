// Source: T. R. Kuphaldt, Lessons In Electric Circuits, volume II, chapter 10, "Harmonics in
// polyphase power systems", SPICE listing and Fourier tables of the four-wire circuit, read:
// sources of 120 V (peak), 1 ohm in each source and 1 ohm in each line, 1 ohm in the neutral; each
// load 1 kilohm in parallel with sources of 50 mA (peak) at orders 3, 5, 7 and 9. Peak values stand
// for RMS here: the circuit is linear. Printed: line 0.1198 A at order 1, 0.04975 at 3 and 9,
// 0.04990 at 5 and 7, distortion 83.209 %; neutral 0.1493 A at 3 and 9, about 4e-7 A at 1 and 1e-6
// A at 5 and 7. By hand: 120 / 1002; 50 mA x 1000 / 1005 where the neutral's ohm counts three
// times; x 1000 / 1002 where the currents of the phases cancel in it.
#include <doctest/doctest.h>

#include <string_view>

#include "evenleg/describe/describe.h"
#include "evenleg/network/harmonics.h"
#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

constexpr std::string_view kCircuit = R"(
supply = {system = "120/208 wye"}
service = {hot_ohms = 2, neutral_ohms = 1}
load = [{name = "R1", at = "L1", ohms = 1000}, {name = "R2", at = "L2", ohms = 1000},
        {name = "R3", at = "L3", ohms = 1000}, {name = "H1", at = "L1", ohms = 1000},
        {name = "H2", at = "L2", ohms = 1000}, {name = "H3", at = "L3", ohms = 1000}]
)";

// A load that draws next to nothing at the fundamental and 50 mA at each order: so little that the
// printed digits do not show it, yet its volts give the order's angle.
constexpr double kTraceSiemens = 1e-12;
constexpr double kHarmonicAmps = 0.05;

struct Figures {
  std::vector<double> line;
  std::vector<double> neutral;
};

Figures figures_of(const HarmonicSolution& solved) {
  Figures figures;
  for (const Solution& state : solved.states) {
    figures.line.push_back(std::abs(state.panels[0].hot_amps[0]));
    figures.neutral.push_back(std::abs(state.service_neutral_amps));
  }
  return figures;
}

TEST_CASE("Kuphaldt, harmonics in polyphase power systems: four-wire circuit") {
  const Tables tables = load_tables();
  const House house = read_description(std::string(kThreeLegs) + std::string(kCircuit), "example",
                                       vocabulary(tables));
  const Model model = build_model(
      house, wire(house, *find_system(vocabulary(tables), house.supply.system)), tables);
  std::vector<Complex> y = admittances(model, on_as_found(model));
  std::vector<LoadSpectrum> spectra(y.size());
  const double fundamental = kTraceSiemens * 120 * 1000 / 1002;
  for (std::size_t l = 3; l < y.size(); ++l) {
    y[l] = kTraceSiemens;
    for (const int order : {3, 5, 7, 9}) {
      spectra[l].push_back({order, kHarmonicAmps / fundamental, 0});
    }
  }
  const HarmonicSolution solved = solve_harmonics(model, y, spectra);
  REQUIRE(solved.status == SolveStatus::Solved);
  REQUIRE(solved.orders == std::vector<int>{1, 3, 5, 7, 9});
  const Figures found = figures_of(solved);
  const std::string_view line[] = {"0.1198", "0.04975", "0.04990", "0.04990", "0.04975"};
  const std::string_view neutral[] = {"0.0000", "0.1493", "0.0000", "0.0000", "0.1493"};
  for (std::size_t i = 0; i < solved.orders.size(); ++i) {
    CAPTURE(solved.orders[i]);
    CHECK(matches_printed(found.line[i], line[i]));
    CHECK(matches_printed(found.neutral[i], neutral[i]));
  }
  CHECK(matches_printed(100 * distortion(found.line).value_or(0), "83.209"));
  // By hand, to more digits than are printed.
  CHECK(close(found.line[1], kHarmonicAmps * 1000 / 1005, 1e-9));
  CHECK(close(found.line[2], kHarmonicAmps * 1000 / 1002, 1e-9));
  CHECK(close(found.neutral[1], 3 * kHarmonicAmps * 1000 / 1005, 1e-9));
}

}  // namespace
}  // namespace evenleg
