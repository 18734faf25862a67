// Which conductors each panel's currents share, as sums written out by hand.
#include "evenleg/network/panel_system.h"

#include <doctest/doctest.h>

#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-12;

// Two legs; a service of 0.01 ohm in each hot and 0.02 in the neutral, a transformer with
// Zs = [0.003, -0.001; -0.001, 0.003] ohm, a sub-panel on both legs by a feeder of 0.1 and 0.2 ohm.
// Ports in order: Main L1, Main L2, Sub L1, Sub L2.
Model two_panels() {
  Model model;
  model.source = {120, -120};
  model.source_impedance = Matrix(2, 2);
  model.source_impedance << 0.003, -0.001, -0.001, 0.003;
  model.panels = {{-1, {0, 1}, {0.01, 0.02}}, {0, {0, 1}, {0.1, 0.2}}};
  return model;
}

NeutralFault at_panel(int panel, double ohms) {
  return {{"here", panel == 0 ? PlaceKind::Service : PlaceKind::Feeder, panel, -1, -1}, ohms};
}

void check_z(const PanelSystem& system, const double (&expected)[4][4]) {
  REQUIRE(system.z.rows() == 4);
  for (int r = 0; r < 4; ++r) {
    for (int s = 0; s < 4; ++s) {
      CAPTURE(r);
      CAPTURE(s);
      CHECK(close(system.z(r, s), expected[r][s], kExact));
    }
  }
}

TEST_CASE("panel system: ports are the panels' legs") {
  const PanelSystem system = panel_system(two_panels(), std::nullopt);
  CHECK(system.ports == std::vector<Port>{{0, 0, 0}, {0, 1, 0}, {1, 0, 1}, {1, 1, 1}});
  CHECK(find_port(system.ports, {1, 1, 1}) == 3);
  CHECK(find_port(system.ports, {1, 1, 0}) == -1);
  CHECK(close(system.e(2), 120.0, kExact));
  CHECK(close(system.e(3), -120.0, kExact));
  CHECK_FALSE(system.floating);
}

TEST_CASE("panel system: a multiwire fed from two panels has a port of its own") {
  Model model = two_panels();
  // Its first circuit leaves Main on L1, its second the sub-panel on L2; its neutral is Main's.
  model.cables = {{{{0, 0, 0}, {1, 1, 1}}, 0, {{-1, {0, 1}, {}, {}}}, {}}};
  const PanelSystem system = panel_system(model, std::nullopt);
  CHECK(system.cable_ports == std::vector<std::vector<int>>{{0, 4}});
  CHECK(system.ports.back() == Port{1, 1, 0});
  // With Main L2: Zs 0.003, service hot 0.01 and neutral 0.02. With Sub L2: the feeder's hot 0.1 on
  // top.
  CHECK(close(system.z(4, 1), 0.003 + 0.01 + 0.02, kExact));
  CHECK(close(system.z(4, 3), 0.003 + 0.01 + 0.02 + 0.1, kExact));
  CHECK(close(system.z(4, 4), 0.003 + 0.01 + 0.02 + 0.1, kExact));
}

// Same leg: Zs 0.003, service hot 0.01; other leg: Zs -0.001. Both share the service neutral, 0.02;
// two ports of the sub-panel also its feeder's neutral, 0.2, and on the same leg its hot, 0.1.
TEST_CASE("panel system: shared conductors of sound panels") {
  check_z(panel_system(two_panels(), std::nullopt), {{0.033, 0.019, 0.033, 0.019},
                                                     {0.019, 0.033, 0.019, 0.033},
                                                     {0.033, 0.019, 0.333, 0.219},
                                                     {0.019, 0.033, 0.219, 0.333}});
}

TEST_CASE("panel system: ohms added in a feeder neutral are shared beyond it only") {
  check_z(panel_system(two_panels(), at_panel(1, 5)), {{0.033, 0.019, 0.033, 0.019},
                                                       {0.019, 0.033, 0.019, 0.033},
                                                       {0.033, 0.019, 5.333, 5.219},
                                                       {0.019, 0.033, 5.219, 5.333}});
}

// The removed conductor is in no sum, and the ports beyond it are marked.
TEST_CASE("panel system: an open feeder neutral leaves its panel floating") {
  const PanelSystem system = panel_system(two_panels(), at_panel(1, kOpen));
  check_z(system, {{0.033, 0.019, 0.033, 0.019},
                   {0.019, 0.033, 0.019, 0.033},
                   {0.033, 0.019, 0.133, 0.019},
                   {0.019, 0.033, 0.019, 0.133}});
  CHECK(system.floating);
  const double kBeyond[] = {0, 0, 1, 1};
  for (int r = 0; r < 4; ++r) CHECK(close(system.beyond(r), kBeyond[r], kExact));
}

TEST_CASE("panel system: an open service neutral leaves every panel floating") {
  const PanelSystem system = panel_system(two_panels(), at_panel(0, kOpen));
  CHECK(system.floating);
  CHECK(close(system.z(0, 0), 0.013, kExact));
  CHECK(close(system.z(2, 3), -0.001 + 0.2, kExact));
  for (int r = 0; r < 4; ++r) CHECK(close(system.beyond(r), 1.0, kExact));
  CHECK_FALSE(service_neutral_ohms(two_panels(), at_panel(0, kOpen)).has_value());
}

// 0.02 ohm and 30 ohms side by side: 0.6 / 30.02 ohm; with the conductor gone, 30 ohms alone.
TEST_CASE("panel system: the earth return stays beside the service neutral") {
  Model model = two_panels();
  model.earth_return_ohms = 30;
  const PanelSystem sound = panel_system(model, std::nullopt);
  CHECK(close(sound.neutral_ohms[0], 0.6 / 30.02, kExact));
  const PanelSystem open = panel_system(model, at_panel(0, kOpen));
  CHECK_FALSE(open.floating);
  CHECK(close(open.neutral_ohms[0], 30.0, kExact));
  CHECK(close(open.z(0, 0), 30.013, kExact));
}

TEST_CASE("panel system: paths lead up to the first panel") {
  Model model = two_panels();
  model.panels.push_back({1, {1}, {}});
  CHECK(path_to_source(model, 2) == std::vector<int>{2, 1, 0});
  CHECK(path_to_source(model, 0) == std::vector<int>{0});
}

}  // namespace
}  // namespace evenleg
