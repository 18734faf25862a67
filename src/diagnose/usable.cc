#include "src/diagnose/usable.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

// Judgement: the supply's own drift during a visit stays within it, a displaced neutral does not.
constexpr double kUnexplained = 0.05;
constexpr double kFarFromNominal = 0.15;  // of no supply that is up; judgement

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// The one that most of the values agree on; 1 where they do not.
double common_ratio(const std::vector<double>& ratios) {
  if (ratios.empty()) return 1;
  const double middle = median(ratios);
  const auto near = std::count_if(ratios.begin(), ratios.end(), [&](double ratio) {
    return std::abs(ratio - middle) <= kUnexplained;
  });
  const bool agreed = 2 * static_cast<std::size_t>(near) > ratios.size();
  return agreed && std::abs(middle - 1) <= kFarFromNominal ? middle : 1;
}

}  // namespace

double nominal_of(const Probe& probe, const ReadPoints& points, const SupplySystem& system) {
  const ReadPoint& point = points.points[static_cast<std::size_t>(probe.point)];
  const auto leg = [&](int wire) {
    return wire == kGround ? kNeutral : point.wires[static_cast<std::size_t>(wire)].leg;
  };
  const int from = leg(probe.from);
  if (from == kNeutral) return 0;
  const int to = leg(probe.to);
  return from == to ? 0 : nominal_volts(system, from, to);
}

UsableProbes usable_probes(const std::vector<Probe>& probes, const std::vector<Reading>& readings,
                           const ReadPoints& points, const SupplySystem& system) {
  std::vector<double> ratios;
  const auto unloaded = [&](const Probe& probe) {
    return is_without_load(readings[static_cast<std::size_t>(probe.reading)]);
  };
  for (const Probe& probe : probes) {
    const double nominal = nominal_of(probe, points, system);
    if (nominal > 0 && unloaded(probe)) ratios.push_back(probe.volts / nominal);
  }
  const double ratio = common_ratio(ratios);
  UsableProbes result;
  for (const Probe& probe : probes) {
    const double away =
        std::abs(probe.volts - ratio * nominal_of(probe, points, system)) / system.nominal_volts;
    const bool usable = !unloaded(probe) || away <= kUnexplained;
    (usable ? result.used : result.left_out).push_back(probe);
  }
  return result;
}

}  // namespace evenleg
