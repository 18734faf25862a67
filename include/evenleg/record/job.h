// Everything that a record can tell of a house, worked out once.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/audit/neutral.h"
#include "evenleg/balance/balance.h"
#include "evenleg/balance/demand.h"
#include "evenleg/balance/leg_limits.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/house/wiring.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct JobOptions {
  bool certify = true;
  std::optional<int> plan;  // from 1; the one that plan_to_show() takes when absent
  std::optional<LogResult> log;
  std::string log_name;
  std::function<void(std::string_view doing, int done, int all)> progress{};
};

// A plan with the house that it makes.
struct ShownPlan {
  BalancePlan plan;
  int number = 0;  // from 1
  House house;
  Wiring wiring;
};

struct Job {
  House house;
  Tables tables;
  SupplySystem system;
  Wiring wiring;
  Audit audit;
  NeutralDepth service;                  // its neutral in depth, the limit as the audit has it
  std::vector<NeutralDepth> multiwires;  // shared runs, in the audit's order; curves without proof
  Diagnosis diagnosis;
  std::optional<LogResult> log;
  std::string log_name;
  Balance balance;
  std::vector<LegLimit> leg_limits;
  std::optional<ShownPlan> plan;  // absent: no move betters the house
  std::optional<DemandResult> demand;
  std::string why_no_demand;  // where it is absent
  std::vector<std::optional<double>> withstood;  // volts, by load: as withstood()

  [[nodiscard]] std::optional<double> withstands(int load) const {
    return withstood[static_cast<std::size_t>(load)];
  }
};

// The plan after which further moves gain little: the first whose spread is within a tenth of the
// house's own spread, and 1 A, of the best one's. Judgement. -1 where there is none.
[[nodiscard]] int plan_to_show(const Balance& balance);

// Requires: validate() found nothing. Throws: Error(Request) for a plan that there is not.
[[nodiscard]] Job work_out(const House& house, const Tables& tables, const JobOptions& options);

}  // namespace evenleg
