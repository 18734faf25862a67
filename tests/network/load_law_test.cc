#include "evenleg/network/load_law.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/check.h"

namespace evenleg {
namespace {

// 120 W at 120 V and power factor 1: 1 A, 1/120 S.
LoadBehaviour one_amp(const char* kind) {
  static const Tables tables = load_tables();
  return {per_unit_of(find_kind(tables, kind)->law, 120), 120, 1.0 / 120};
}

double amps_at(const LoadBehaviour& load, double v, LoadStatus status = LoadStatus::Running) {
  return std::abs(secant_admittance(load, 120 * v, status)) * 120 * v;
}

// Lamp rerating: I/I0 = v^0.55, P/P0 = v^1.55, worked out to two digits (0.5^0.55 = 0.683,
// 0.5^1.55 = 0.342; 1.5^0.55 = 1.250, 1.5^1.55 = 1.875).
TEST_CASE("load law: current and power of a lamp") {
  struct Row {
    double v;
    const char* current;
    const char* power;
  };
  const LoadBehaviour lamp = one_amp("incandescent");
  for (const Row& row :
       {Row{0.50, "0.68", "0.34"}, Row{0.75, "0.85", "0.64"}, Row{0.90, "0.94", "0.85"},
        Row{1.10, "1.05", "1.16"}, Row{1.25, "1.13", "1.41"}, Row{1.50, "1.25", "1.87"},
        Row{1.75, "1.36", "2.4"}, Row{2.00, "1.46", "2.9"}}) {
    CAPTURE(row.v);
    CHECK(matches_printed(amps_at(lamp, row.v), row.current));
    CHECK(matches_printed(amps_at(lamp, row.v) * row.v, row.power));
  }
}

TEST_CASE("load law: constant power draws 1/v and nothing when locked out") {
  const LoadBehaviour supply = one_amp("television");
  for (double v : {0.6, 0.8, 1.0, 1.25}) CHECK(close(amps_at(supply, v), 1 / v, 1e-12));
  // Held below the lock-out, at 1 / 0.6.
  CHECK(close(amps_at(supply, 0.3), 1 / 0.6, 1e-12));
  CHECK(amps_at(supply, 0.5, LoadStatus::LockedOut) == 0);
}

// 1 / |0.1 + j0.1| = 7.071; at 0.55 of the volts 3.889. P = Q = 5 v².
TEST_CASE("load law: a stalled compressor") {
  const LoadBehaviour compressor = one_amp("refrigerator");
  CHECK(matches_printed(amps_at(compressor, 1, LoadStatus::Stalled), "7.1"));
  CHECK(matches_printed(amps_at(compressor, 0.55, LoadStatus::Stalled), "3.9"));
  const Complex y = secant_admittance(compressor, 60, LoadStatus::Stalled);
  CHECK(close(y.real() * 120, 5, 1e-12));
  CHECK(close(-y.imag() * 120, 5, 1e-12));
}

// Motor D at p = 0.939, q = sqrt(1 - p²) = 0.343917: at 0.96, Q0' = q - 6 * 0.14² = 0.226317 and
// Q = Q0' + 6 * 0.1² = 0.286317; at 0.66, P = p + 12 * 0.2^3.2 = 0.939 + 12 * 0.00579824 =
// 1.008579, Q = Q0' + 11 * 0.2^2.5 = 0.226317 + 11 * 0.0178885 = 0.423091.
TEST_CASE("load law: a running compressor") {
  LoadBehaviour motor = one_amp("central air conditioner");
  motor.nominal = Complex(0.939, -std::sqrt(1 - 0.939 * 0.939)) / 120.0;
  const auto power_at = [&](double v) {
    return std::conj(secant_admittance(motor, 120 * v, LoadStatus::Running)) * v * v * 120.0;
  };
  CHECK(close(power_at(1), Complex(0.939, 0.343917), 1e-6));
  CHECK(close(power_at(0.96), Complex(0.939, 0.286317), 1e-6));
  CHECK(close(power_at(0.66), Complex(1.008579, 0.423091), 1e-6));
}

// Microwave oven: 1.39 v² - 1.96 v + 1.57 at 0.9 is 1.1259 - 1.764 + 1.57 = 0.9319. At the edge,
// 1.10, 1.6819 - 2.156 + 1.57 = 1.0959; beyond it by v / 1.10: at 1.32 the edge's times 1.2 =
// 1.31508. The fit alone would give 1.40474 there.
TEST_CASE("load law: a fit is used within its range only") {
  const LoadBehaviour oven = one_amp("microwave");
  const auto power_at = [&](double v) {
    return secant_admittance(oven, 120 * v, LoadStatus::Running).real() * v * v * 120;
  };
  CHECK(close(power_at(0.9), 0.9319, 1e-12));
  CHECK(close(power_at(1.10), 1.0959, 1e-12));
  CHECK(close(power_at(1.32), 1.31508, 1e-12));
}

// 1 mA at a crest of 200 V, by the 30th power: at 180 V the crest is 254.56 V, the crest current
// 1 mA * 1.27279^30 = 1.3906 A, its 60 Hz part, rms, 0.20104 of it: 0.2796 A. Source from memory.
TEST_CASE("load law: a varistor is open below 1.15 and steep above") {
  const LoadBehaviour strip = one_amp("surge strip");
  CHECK(amps_at(strip, 1.14) == 0);
  CHECK(matches_printed(amps_at(strip, 1.5), "0.28"));
  CHECK(close(amps_at(strip, 1.6) / amps_at(strip, 1.5), std::pow(1.6 / 1.5, 30), 1e-9));
}

TEST_CASE("load law: thresholds with hysteresis, and exactly at one") {
  const LoadBehaviour supply = one_amp("television");  // off below 0.60, on above 0.75
  CHECK(next_status(supply, 72, LoadStatus::Running) == LoadStatus::Running);
  CHECK(next_status(supply, 71.99, LoadStatus::Running) == LoadStatus::LockedOut);
  CHECK(next_status(supply, 90, LoadStatus::LockedOut) == LoadStatus::LockedOut);
  CHECK(next_status(supply, 90.01, LoadStatus::LockedOut) == LoadStatus::Running);
  CHECK(next_status(supply, 90.01, LoadStatus::FailedOpen) == LoadStatus::FailedOpen);
  const LoadBehaviour compressor = one_amp("refrigerator");  // 0.55 and 0.95
  CHECK(next_status(compressor, 65.9, LoadStatus::Running) == LoadStatus::Stalled);
  CHECK(next_status(compressor, 114, LoadStatus::Stalled) == LoadStatus::Stalled);
  CHECK(next_status(compressor, 114.1, LoadStatus::Stalled) == LoadStatus::Running);
}

// A supply marked 100-240 V: 72, 90 and 264 V at any nameplate. On 230 V, 1.15 times the nameplate.
TEST_CASE("load law: limits in volts stay volts on any nameplate") {
  const Tables tables = load_tables();
  for (const char* kind : {"laptop charger", "phone charger", "universal supply"}) {
    for (const double nameplate : {100.0, 120.0, 230.0}) {
      CAPTURE(kind);
      CAPTURE(nameplate);
      const LoadBehaviour load{per_unit_of(find_kind(tables, kind)->law, nameplate), nameplate,
                               1.0 / nameplate};
      CHECK(next_status(load, 100, LoadStatus::Running) == LoadStatus::Running);
      CHECK(next_status(load, 71, LoadStatus::Running) == LoadStatus::LockedOut);
      CHECK(next_status(load, 89, LoadStatus::LockedOut) == LoadStatus::LockedOut);
      CHECK(next_status(load, 91, LoadStatus::LockedOut) == LoadStatus::Running);
      CHECK(share_of_failing(load, 263, LoadStatus::Running) < 1);
      CHECK(share_of_failing(load, 265, LoadStatus::Running) > 1);
    }
  }
}

// Of kinds that withstand so many volts whatever their nameplate, the law counts in volts too.
TEST_CASE("load law: a kind that withstands volts has its limits in volts") {
  for (const LoadKind& kind : load_tables().load_kinds) {
    CAPTURE(kind.name);
    CHECK(kind.law.limits_in_volts == kind.withstands_volts.has_value());
  }
}

TEST_CASE("load law: every kind's law has its sources and draws its nameplate at its volts") {
  const Tables tables = load_tables();
  for (const LoadKind& kind : tables.load_kinds) {
    CAPTURE(kind.name);
    CHECK(!kind.law.source.title.empty());
    const bool limits = kind.law.off_below || kind.law.stalls_below || kind.law.fails_above;
    CHECK(kind.law.limits_source.title.empty() == !limits);
    if (kind.law.conducts_above) continue;
    // Each fit's three coefficients add to 1, for active and reactive power.
    const Complex nominal = Complex(0.8, -0.6) / 120.0;
    const Complex y =
        secant_admittance({per_unit_of(kind.law, 120), 120, nominal}, 120, LoadStatus::Running);
    CHECK(close(y * 120.0, nominal * 120.0, 1e-9));
  }
}

}  // namespace
}  // namespace evenleg
