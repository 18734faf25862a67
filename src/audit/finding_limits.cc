#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "evenleg/base/format.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

// The table names the rows for the point of use so, in each jurisdiction that has them.
bool is_at_use(const VoltageLimits& limits) { return limits.name.rfind("utilization", 0) == 0; }

bool is_inside(const VoltageLimits& limits, double volts) {
  return volts >= limits.least_volts && volts <= limits.most_volts;
}

}  // namespace

BrokenLimits broken_limits(const Seen& seen, double volts, LimitsAt where) {
  BrokenLimits broken;
  std::map<std::string, bool> inside_some;  // by jurisdiction
  for (const VoltageLimits& limits : seen.tables.voltage_limits) {
    if (limits.base_volts != seen.wiring.system.nominal_volts) continue;
    if (is_at_use(limits) != (where == LimitsAt::Use)) continue;
    bool& inside = inside_some[limits.jurisdiction];
    if (is_inside(limits, volts)) {
      inside = true;
    } else {
      broken.limits.push_back(&limits);
    }
  }
  broken.widest = std::any_of(inside_some.begin(), inside_some.end(),
                              [](const auto& entry) { return !entry.second; });
  return broken;
}

std::string limits_text(const BrokenLimits& broken) {
  constexpr std::size_t kMostNamed = 3;
  std::vector<std::string> parts;
  for (const VoltageLimits* limits : broken.limits) {
    if (parts.size() == kMostNamed) break;
    parts.push_back(fmt::format("{} to {} V ({}, {})", exact(limits->least_volts),
                                exact(limits->most_volts), limits->jurisdiction, limits->name));
  }
  if (broken.limits.size() > kMostNamed) {
    parts.push_back(fmt::format("{} more of the limits listed", broken.limits.size() - kMostNamed));
  }
  return listed(parts);
}

BrokenLimits broken_at_service(const Seen& seen) {
  BrokenLimits all;
  const PanelState& first = seen.as_found.panels.front();
  for (const Complex& hot : first.hot) {
    const BrokenLimits here = broken_limits(seen, std::abs(hot - first.neutral), LimitsAt::Service);
    all.widest = all.widest || here.widest;
    for (const VoltageLimits* limits : here.limits) {
      if (std::find(all.limits.begin(), all.limits.end(), limits) == all.limits.end()) {
        all.limits.push_back(limits);
      }
    }
  }
  return all;
}

std::string leg_volts_text(const Seen& seen, const PanelState& first) {
  std::vector<std::string> parts;
  const std::vector<int>& legs = seen.model.panels.front().legs;
  for (std::size_t i = 0; i < first.hot.size(); ++i) {
    parts.push_back(fmt::format("{} at {} V",
                                seen.wiring.system.legs[static_cast<std::size_t>(legs[i])].name,
                                figure(std::abs(first.hot[i] - first.neutral))));
  }
  return listed(parts);
}

}  // namespace evenleg
