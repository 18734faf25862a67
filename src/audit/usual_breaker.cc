#include "src/audit/usual_breaker.h"

#include <algorithm>
#include <array>

namespace evenleg {
namespace {

// Standard ratings of overcurrent devices up to 500 A, NEC 240.6(A), from memory.
constexpr std::array<double, 25> kStandardRatings = {15,  20,  25,  30,  35,  40,  45,  50,  60,
                                                     70,  80,  90,  100, 110, 125, 150, 175, 200,
                                                     225, 250, 300, 350, 400, 450, 500};

// The next standard rating up from an ampacity that is none itself, NEC 240.4(B), from memory.
double next_standard(double ampacity) {
  const auto* next = std::lower_bound(kStandardRatings.begin(), kStandardRatings.end(), ampacity);
  return next == kStandardRatings.end() ? ampacity : *next;
}

bool is_metric(const Conductor& conductor) {
  return conductor.name.find("mm2") != std::string::npos;
}

}  // namespace

bool is_single_phase(const Seen& seen) {
  constexpr std::size_t kMostLegs = 2;
  return seen.wiring.system.legs.size() <= kMostLegs;
}

std::optional<UsualBreaker> usual_breaker(const Seen& seen, const Conductor& conductor,
                                          bool whole_dwelling) {
  if (whole_dwelling && is_single_phase(seen) && conductor.dwelling_service_limit) {
    return UsualBreaker{*conductor.dwelling_service_limit, "NEC table 310.12"};
  }
  if (conductor.small_conductor_limit) {
    return UsualBreaker{*conductor.small_conductor_limit, "NEC 240.4(D)"};
  }
  if (!conductor.ampacity) return std::nullopt;
  if (is_metric(conductor)) {
    return UsualBreaker{*conductor.ampacity, short_form(conductor.ampacity_source)};
  }
  return UsualBreaker{next_standard(*conductor.ampacity),
                      "NEC table 310.16, 75 °C, next standard rating (240.4(B))"};
}

bool is_beyond_conductor(const Seen& seen, const std::optional<double>& breaker_a, const Run& run,
                         bool whole_dwelling) {
  const Conductor* conductor =
      run.conductor ? find_conductor(seen.tables, *run.conductor) : nullptr;
  if (!breaker_a || conductor == nullptr) return false;
  const auto most = usual_breaker(seen, *conductor, whole_dwelling);
  return most && *breaker_a > most->amps;
}

}  // namespace evenleg
