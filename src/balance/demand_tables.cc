#include "src/balance/demand_tables.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"

namespace evenleg {
namespace {

constexpr double kKilo = 1000;

// A figure of a band that may be absent.
double figure_or(const DemandBand& band, const std::string& key, double other) {
  const auto found = band.figures.find(key);
  return found == band.figures.end() ? other : found->second;
}

// The kilowatts beyond `base`, a major fraction counting as one.
double whole_kw_over(double kw, double base) {
  constexpr double kHalf = 0.5;
  constexpr double kNoise = 1e-9;
  return kw <= base ? 0 : std::floor(kw - base + kHalf + kNoise);
}

// Notes 1 and 2: the average with 12 kW as the least of each, 5 % more for each kW beyond 12.
double column_c_kw(const DemandRule& rule, const std::vector<double>& kws) {
  const DemandBand* band = rule.band(static_cast<int>(kws.size()));
  if (band == nullptr) return 0;
  const double base = rule.figure("column_c_to_kw");
  double sum = 0;
  for (const double kw : kws) sum += std::max(kw, base);
  const auto count = static_cast<double>(kws.size());
  const double percent = rule.figure("percent_per_kw") * whole_kw_over(sum / count, base);
  const double kw = figure_or(*band, "c_kw", 0) + count * figure_or(*band, "c_kw_each", 0);
  return kw * (1 + percent / kPercent);
}

struct Columns {
  double kw = 0;
  std::string text;
};

// Note 3: columns A and B, each by the number of the appliances in it.
Columns columns_a_b(const DemandRule& rule, const std::vector<double>& kws) {
  std::vector<double> small, large;
  for (const double kw : kws) {
    (kw < rule.figure("column_a_below_kw") ? small : large).push_back(kw);
  }
  Columns found;
  for (const auto& [part, key] : {std::pair{&small, "a"}, std::pair{&large, "b"}}) {
    const DemandBand* band = rule.band(static_cast<int>(part->size()));
    if (band == nullptr) continue;
    double sum = 0;
    for (const double kw : *part) sum += kw;
    const double percent = figure_or(*band, key, kPercent);
    found.kw += sum * percent / kPercent;
    found.text += fmt::format("{}{} kW at {} %, column {}", found.text.empty() ? "" : " and ",
                              exact(sum), exact(percent), *key == 'a' ? "A" : "B");
  }
  return found;
}

}  // namespace

double tiered(const DemandRule& rule, double load) {
  double counted = 0, from = 0;
  for (const DemandTier& tier : rule.tiers) {
    const double to = std::min(load, tier.up_to.value_or(load));
    if (to > from) counted += (to - from) * tier.percent / kPercent;
    from = std::max(from, to);
  }
  return counted;
}

std::string tiers_text(const DemandRule& rule, double load) {
  std::string text;
  double from = 0;
  for (const DemandTier& tier : rule.tiers) {
    const double to = std::min(load, tier.up_to.value_or(load));
    if (to <= from) continue;
    text += fmt::format("{}{} at {} %", text.empty() ? "" : ", ", fixed(to - from, 0),
                        exact(tier.percent));
    from = to;
  }
  return text;
}

CookingDemand cooking_demand(const DemandRule& rule, const std::vector<double>& vas) {
  CookingDemand demand;
  std::vector<double> kws;
  for (const double va : vas) {
    const double kw = va / kKilo;
    const bool inside = kw > rule.figure("least_kw") && kw <= rule.figure("most_kw");
    if (inside) kws.push_back(kw);
    if (!inside) demand.outside_va += va;
  }
  const auto small = [&](double kw) { return kw <= rule.figure("column_b_to_kw"); };
  const double c = column_c_kw(rule, kws);
  demand.va = demand.outside_va;
  if (!kws.empty()) {
    demand.text = kws.size() == 1 ? fmt::format("{} kW, column C", exact(kws.front()))
                                  : fmt::format("{} of them, column C", kws.size());
    double kw = c;
    if (std::all_of(kws.begin(), kws.end(), small)) {
      const Columns columns = columns_a_b(rule, kws);
      if (columns.kw < c) {
        kw = columns.kw;
        demand.text = columns.text;
      }
    }
    demand.va += kw * kKilo;
  }
  if (demand.outside_va > 0) {
    demand.text += fmt::format("{}{} VA in full, outside of the table",
                               demand.text.empty() ? "" : "; ", fixed(demand.outside_va, 0));
  }
  return demand;
}

double dryer_demand(const DemandRule& rule, const std::vector<double>& vas, double& percent) {
  double sum = 0;
  for (const double va : vas) sum += std::max(va, rule.figure("least_va"));
  const auto count = static_cast<int>(vas.size());
  const DemandBand* band = rule.band(count);
  percent = kPercent;
  if (band != nullptr) {
    percent = figure_or(*band, "percent", kPercent) -
              figure_or(*band, "less_each", 0) * (count - figure_or(*band, "over", count));
  }
  return sum * percent / kPercent;
}

}  // namespace evenleg
