#include "evenleg/record/job.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/error.h"
#include "evenleg/base/index.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/diagnose_text.h"

namespace evenleg {
namespace {

Audit audited(const Job& job, const JobOptions& options) {
  AuditOptions ask;
  ask.certify = options.certify;
  ask.degraded_neutral_ohms = measured_neutral_excess(job.house, job.diagnosis);
  ask.progress = options.progress;
  return audit(job.house, job.tables, ask);
}

// Of the service or a shared run, without proof between the points of its curve: the audit has the
// proven limits.
NeutralDepth in_depth(const Job& job, const Place& place, const JobOptions& options) {
  NeutralOptions ask;
  ask.certify = false;
  ask.progress = options.progress;
  const bool shared = place.kind == PlaceKind::SharedRun;
  return neutral_in_depth(job.house, job.tables, (shared ? "multiwire " : "") + place.name, ask);
}

int chosen_plan(const Job& job, const JobOptions& options) {
  if (!options.plan) return plan_to_show(job.balance);
  const int plans = static_cast<int>(job.balance.plans.size());
  if (*options.plan >= 1 && *options.plan <= plans) return *options.plan - 1;
  throw Error(ErrorKind::Request,
              {"--plan", fmt::format("there is no plan {}", *options.plan),
               plans == 0 ? "no move betters the house as it is"
                          : fmt::format("there {} {}; see `evenleg balance`",
                                        plans == 1 ? "is plan" : "are plans 1 to", plans)});
}

void add_plan(Job& job, const JobOptions& options) {
  const int index = chosen_plan(job, options);
  if (index < 0) return;
  const BalancePlan& plan = job.balance.plans[at(index)];
  House planned = with_plan(job.house, plan);
  Wiring wiring = wire(planned, job.system);
  job.plan = ShownPlan{plan, index + 1, std::move(planned), std::move(wiring)};
}

// A calculation that lacks a figure of the dwelling, or does not cover its supply, is told as such.
void add_demand(Job& job) {
  try {
    job.demand = demand(job.house, job.tables);
  } catch (const Error& error) {
    for (const Fault& fault : error.faults()) {
      job.why_no_demand += (job.why_no_demand.empty() ? "" : "; ") + fault.what;
    }
  }
}

}  // namespace

int plan_to_show(const Balance& balance) {
  if (balance.plans.empty()) return -1;
  constexpr double kShare = 0.1;
  constexpr double kAmps = 1;
  const double enough =
      balance.plans.back().spread_amps + std::max(kAmps, kShare * balance.spread_amps);
  const auto found =
      std::find_if(balance.plans.begin(), balance.plans.end(),
                   [&](const BalancePlan& plan) { return plan.spread_amps <= enough; });
  return static_cast<int>(found - balance.plans.begin());
}

Job work_out(const House& house, const Tables& tables, const JobOptions& options) {
  Job job;
  job.house = house;
  job.tables = tables;
  const Vocabulary words = vocabulary(tables);
  job.system = *find_system(words, house.supply.system);
  job.wiring = wire(house, job.system);
  job.log = options.log;
  job.log_name = options.log_name;
  job.diagnosis = diagnose(house, tables, job.log ? &*job.log : nullptr);
  job.audit = audited(job, options);
  job.withstood = withstood(house, job.audit);
  for (const OpenNeutral& open : job.audit.open_neutral) {
    if (open.place.kind == PlaceKind::Service) {
      job.service = in_depth(job, open.place, options);
      job.service.high = open.limit;
    } else if (open.place.kind == PlaceKind::SharedRun) {
      job.multiwires.push_back(in_depth(job, open.place, options));
    }
  }
  BalanceOptions ask;
  ask.progress = options.progress;
  job.balance = balance(house, tables, ask);
  job.leg_limits = leg_limits(house, job.wiring, tables);
  add_plan(job, options);
  add_demand(job);
  return job;
}

}  // namespace evenleg
