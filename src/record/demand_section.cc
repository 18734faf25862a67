#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/report/demand_text.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

Sheet steps_sheet(Fill& fill, const DemandResult& result) {
  Sheet sheet{"Service calculation",
              fmt::format("{}, {}, edition {}", capitalised(result.method_text), result.code,
                          result.edition),
              {{"step", "", false},
               {"rule", "", false},
               {"value", result.unit, true},
               {"total", result.unit, true},
               {"source", "", false}},
              {},
              {},
              0};
  for (const std::vector<DemandStep>* steps : {&result.steps, &result.neutral_steps}) {
    for (const DemandStep& step : *steps) {
      const std::string part = steps == &result.neutral_steps ? "Neutral: " : "";
      sheet.rows.push_back({part + step.text, step.section, with_decimals(step.value, 0),
                            with_decimals(step.total, 0), fill.sources.mark(step.source)});
    }
  }
  sheet.notes = result.notes;
  return sheet;
}

Sheet held_against(Fill& fill, const DemandResult& result) {
  Sheet sheet{"Service limits",
              "What the calculated current is held against",
              {{"what", "", false},
               {"limit", "A", true},
               {"calculated", "A", true},
               {"left", "A", true},
               {"source", "", false}},
              {},
              {},
              0};
  const double neutral =
      whole_amps(result.neutral_by_leg_amps.value_or(result.neutral_amps.value_or(0)));
  for (const std::vector<DemandLimit>* limits : {&result.limits, &result.neutral_limits}) {
    for (const DemandLimit& limit : *limits) {
      const double amps = limits == &result.limits ? result.compared_amps : neutral;
      sheet.rows.push_back(
          {limit.what, as_given(limit.amps), with_decimals(amps, 1),
           with_decimals(limit.amps - amps, 1),
           limit.source.empty() ? "as described" : fill.sources.mark(limit.source)});
    }
  }
  return sheet;
}

}  // namespace

Section service_calculation_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"service-calculation", "Service calculation", {}, false};
  if (!job.demand) {
    section.blocks.emplace_back(Paragraph{"Not calculated: " + job.why_no_demand + "."});
    return section;
  }
  const DemandResult& result = *job.demand;
  std::string answer = fmt::format("Calculated load: {} {}, {} A", fixed(result.load, 0),
                                   result.unit, fixed(result.amps, 1));
  if (result.compared_amps != result.amps) {
    answer += fmt::format(", counted as {} A", fixed(result.compared_amps, 0));
  }
  answer += ".";
  if (result.neutral_amps) {
    answer += fmt::format(" Its neutral: {} A.", fixed(*result.neutral_amps, 1));
  }
  if (result.neutral_by_leg_amps) {
    answer += fmt::format(
        " Taking the loads leg by leg makes {} A in the neutral: what is larger on one leg is not "
        "halved then, and a neutral is better sized for that.",
        fixed(*result.neutral_by_leg_amps, 1));
  }
  section.blocks.emplace_back(Paragraph{std::move(answer)});
  section.blocks.emplace_back(steps_sheet(fill, result));
  if (Sheet limits = held_against(fill, result); !limits.rows.empty()) {
    section.blocks.emplace_back(std::move(limits));
  }
  section.blocks.emplace_back(Paragraph{std::string(demand_caution())});
  return section;
}

}  // namespace evenleg
