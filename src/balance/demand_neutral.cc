// NEC 220.61, the load of a service's or feeder's neutral.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "src/balance/demand_lines.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

class NeutralSteps {
 public:
  NeutralSteps(DemandWork& work, std::vector<DemandStep>& steps) : work_(work), steps_(steps) {}

  void add(std::string text, const DemandRule& rule, double va) {
    if (va <= 0) return;
    total_ += va;
    steps_.push_back(
        {std::move(text), rule.name, rule.section, work_.source(rule), va, total_, false});
  }
  [[nodiscard]] double total() const { return total_; }

 private:
  DemandWork& work_;
  std::vector<DemandStep>& steps_;
  double total_ = 0;
};

// 70 % of what is above 200 A; never on two legs of a wye.
double reduced(const DemandWork& work, double amps) {
  const DemandRule& rule = work.rule_of("neutral", "large neutral");
  const double from = rule.figure("above_amps");
  if (!work.system.split_phase || amps <= from) return amps;
  return from + (amps - from) * rule.figure("percent") / kPercent;
}

double by_leg(const std::vector<DemandByLine>& rows) {
  double amps = 0;
  for (const DemandByLine& row : rows) amps += row.neutral;
  return amps;
}

void add_base(DemandWork& work, NeutralSteps& steps) {
  const BaseLoad base = base_load(work);
  const DemandRule& cooking = work.rule_of("neutral", "cooking and dryers");
  const double part = cooking_neutral_part(work);
  const std::string percent = exact(part * kPercent);
  steps.add("Lighting load of the standard calculation",
            work.rule_of("standard", "lighting demand"), base.lighting);
  steps.add(fmt::format("Cooking, {} % of {}", percent, va_text(work, base.cooking)), cooking,
            base.cooking * part);
  steps.add(fmt::format("Dryers, {} % of {}", percent, va_text(work, base.dryers)), cooking,
            base.dryers * part);
}

}  // namespace

void neutral_demand(DemandWork& work) {
  DemandResult& result = work.result;
  NeutralSteps steps(work, result.neutral_steps);
  const std::vector<DemandByLine> rows = demand_by_line(work);
  add_base(work, steps);
  const bool by_line = work.method.name == "standard";
  if (by_line) result.by_line = rows;
  if (!by_line) {
    const DemandRule& rule = work.rule_of("neutral", "unbalance");
    const DemandRule& fastened = work.rule_of("standard", "fastened appliances");
    const double percent = fastened_percent(work);
    for (const DemandItem& item : result.items) {
      const bool base = item.category == "dryer" || item.category == "range" ||
                        item.category == "wall oven" || item.category == "cooktop";
      if (!item.counted || base) continue;
      const bool part = fastened.does_count(item.category) && percent < kPercent &&
                        item.va >= fastened.figure("least_va");
      std::string text = shortened(item.name, kMostName);
      if (part) text += fmt::format(", at {} %", exact(percent));
      steps.add(std::move(text), rule, item.neutral_va * (part ? percent / kPercent : 1));
    }
  }
  result.neutral_va = steps.total();
  const double amps = by_line ? by_leg(rows) : steps.total() / result.line_volts;
  result.neutral_amps = reduced(work, amps);
  if (*result.neutral_amps < amps) {
    result.notes.push_back(
        fmt::format("The neutral's {} A before the reduction of what is above 200 A ({}).",
                    figure(amps), work.rule_of("neutral", "large neutral").section));
  }
  if (by_line) return;
  const double legs = reduced(work, by_leg(rows));
  if (whole_amps(legs) > whole_amps(*result.neutral_amps)) result.neutral_by_leg_amps = legs;
}

}  // namespace evenleg
