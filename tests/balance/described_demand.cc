#include "tests/balance/described_demand.h"

#include <cmath>
#include <string>

#include "evenleg/describe/describe.h"

namespace evenleg {

DescribedDemand::DescribedDemand(std::string_view own, std::string_view shared)
    : tables_(load_tables()),
      house_(read_description(std::string(shared) + std::string(own), "example",
                              vocabulary(tables_))) {}

DemandResult DescribedDemand::by(const DemandOptions& options) const {
  return demand(house_, tables_, options);
}

DemandResult DescribedDemand::by(std::string_view method, int edition) const {
  return by({std::string(method), edition, {}});
}

double step_value(const DemandResult& result, std::string_view rule) {
  double value = std::nan("");
  for (const DemandStep& step : result.steps) {
    if (step.rule == rule) value = step.value;
  }
  return value;
}

double step_total(const DemandResult& result, std::string_view rule) {
  double total = std::nan("");
  for (const DemandStep& step : result.steps) {
    if (step.rule == rule) total = step.total;
  }
  return total;
}

double step_sum(const DemandResult& result, std::string_view rule) {
  double sum = 0;
  bool any = false;
  for (const DemandStep& step : result.steps) {
    if (step.rule != rule) continue;
    sum += step.value;
    any = true;
  }
  return any ? sum : std::nan("");
}

double step_called(const std::vector<DemandStep>& steps, std::string_view start) {
  for (const DemandStep& step : steps) {
    if (step.text.starts_with(start)) return step.value;
  }
  return std::nan("");
}

DemandByLine line_called(const DemandResult& result, std::string_view start) {
  for (const DemandByLine& row : result.by_line) {
    if (row.text.starts_with(start)) return row;
  }
  return {"", "", "", {0, 0}, 0};
}

}  // namespace evenleg
