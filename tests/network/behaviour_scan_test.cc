// The number of balance points against a plain scan: loads in phase on an ideal split-phase supply,
// each combination of statuses, the sum of currents at 24000 displacements from -120 to 120 V, a
// point at each change of sign, stable where the left-over current falls there. It shares the
// loads' laws with the program and nothing of the search.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/check.h"
#include "tests/network/dice.h"
#include "tests/network/loads_across.h"

namespace evenleg {
namespace {

struct Scanned {
  double d = 0;
  bool stable = false;
};

double volts_at(const LoadAcross& load, double d) { return load.leg == "L1" ? 120 - d : 120 + d; }

// Into the floating point: from L1 positive, towards L2 negative.
double left_over(const std::vector<LoadAcross>& loads, const std::vector<LoadBehaviour>& laws,
                 const std::vector<LoadStatus>& statuses, double d, double conductance) {
  double sum = -conductance * d;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const double v = volts_at(loads[i], d);
    const double amps = secant_admittance(laws[i], v, statuses[i]).real() * v;
    sum += loads[i].leg == "L1" ? amps : -amps;
  }
  return sum;
}

void scan(const std::vector<LoadAcross>& loads, const std::vector<LoadBehaviour>& laws,
          const std::vector<LoadStatus>& statuses, double conductance,
          std::vector<Scanned>& found) {
  constexpr int kSteps = 24000;
  constexpr double kFrom = -120.0037, kTo = 120.0053;  // no step falls on a round figure
  double last = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const double d = kFrom + (kTo - kFrom) * i / kSteps;
    const double f = left_over(loads, laws, statuses, d, conductance);
    if (i > 0 && (last > 0) != (f > 0)) {
      bool agrees = std::abs(d) < 120;
      for (std::size_t l = 0; l < loads.size(); ++l) {
        agrees = agrees && is_consistent(laws[l], volts_at(loads[l], d), statuses[l]);
      }
      if (agrees) found.push_back({d, f < last});
    }
    last = f;
  }
}

TEST_CASE("behaviour: as many points as a plain scan of every combination finds") {
  static const Tables tables = load_tables();
  const char* kinds[] = {"television", "incandescent", "laptop charger", "ev charger",
                         "plain",      "led lamp",     "fluorescent",    "vacuum cleaner"};
  int all = 0, unstable = 0, none = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    Dice dice(seed);
    std::vector<LoadAcross> loads;
    const int count = 2 + static_cast<int>(seed % 4);
    for (int i = 0; i < count; ++i) {
      loads.push_back({i == 0 || (i > 1 && dice.chance(0.5)) ? "L1" : "L2", kinds[dice.below(8)],
                       dice.between(40, 400)});
    }
    const double conductance = seed % 3 == 0 ? 1.0 / dice.between(5, 200) : 0;
    std::vector<LoadBehaviour> laws;
    for (const LoadAcross& load : loads) {
      laws.push_back(
          {per_unit_of(find_kind(tables, load.kind)->law, 120), 120, load.watts / 14400});
    }
    std::vector<Scanned> scanned;
    for (unsigned bits = 0; bits < (1U << count); ++bits) {
      std::vector<LoadStatus> statuses(laws.size(), LoadStatus::Running);
      bool possible = true, draws = conductance > 0;
      for (std::size_t l = 0; l < laws.size(); ++l) {
        if (((bits >> l) & 1U) != 0) {
          possible = possible && laws[l].law.off_below;
          statuses[l] = LoadStatus::LockedOut;
        } else {
          draws = true;
        }
      }
      if (possible && draws) scan(loads, laws, statuses, conductance, scanned);
    }
    const BehaviourResult result =
        behaviour_of(loads_across(loads), conductance > 0 ? 1 / conductance : kOpen);
    // At d = ±120 V one side is dead: a point the scan's ends cut off.
    std::vector<const BalancePoint*> inside;
    for (const BalancePoint& point : result.points) {
      CHECK(std::abs(point.displacement.si().imag()) < 1e-6);
      if (std::abs(point.displacement.si()) < 119.9) inside.push_back(&point);
    }
    CHECK(inside.size() == scanned.size());
    for (const Scanned& s : scanned) {
      int same = 0;
      for (const BalancePoint* point : inside) {
        if (std::abs(point->displacement.si() - s.d) > 0.02) continue;
        ++same;
        CHECK(point->stable == s.stable);
      }
      CHECK(same >= 1);
      unstable += s.stable ? 0 : 1;
    }
    all += static_cast<int>(scanned.size());
    none += scanned.empty() ? 1 : 0;
  }
  CHECK(all > 40);
  CHECK(unstable > 5);
  CHECK(none > 3);
}

}  // namespace
}  // namespace evenleg
