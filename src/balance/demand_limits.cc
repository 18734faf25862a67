// What the calculated load is held against, and what is left for more.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/citation.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

std::string source_of(const Citation& citation) {
  return short_form(citation) + "; read: " + citation.read;
}

// The least standard rating of at least so many amperes; the last where none is.
double next_rating(const DemandRule& ratings, double amps) {
  double rating = amps;
  for (const DemandBand& band : ratings.bands) {
    rating = band.from;
    if (rating >= amps) break;
  }
  return std::max(rating, amps);
}

void add_conductor_limits(DemandWork& work) {
  const std::optional<Service>& service = work.house.service;
  if (!service || !service->run.conductor) return;
  const std::string& hot = *service->run.conductor;
  if (const Conductor* conductor = find_conductor(work.tables, hot)) {
    // A conductor that carries the whole load of a dwelling may serve a rating above its ampacity.
    const bool dwelling = work.method.name != "canadian" && conductor->dwelling_service_limit;
    if (dwelling) {
      work.result.limits.push_back({"service conductor " + hot + ", as a dwelling's service",
                                    *conductor->dwelling_service_limit,
                                    source_of(conductor->dwelling_service_source)});
    } else if (conductor->ampacity) {
      work.result.limits.push_back({"service conductor " + hot, *conductor->ampacity,
                                    source_of(conductor->ampacity_source)});
    }
  }
  const std::string neutral = service->run.neutral.value_or(hot);
  const Conductor* conductor = find_conductor(work.tables, neutral);
  if (conductor != nullptr && conductor->ampacity && work.result.neutral_amps) {
    work.result.neutral_limits.push_back({"service neutral " + neutral, *conductor->ampacity,
                                          source_of(conductor->ampacity_source)});
  }
}

void take_least_service(DemandWork& work) {
  DemandResult& result = work.result;
  if (work.method.name == "canadian") {
    const DemandRule& rule = work.rule("least service");
    const bool small = floor_area_m2(work.house) < rule.figure("small_below_m2");
    result.least_service_amps = rule.figure(small ? "small_amps" : "amps");
    result.least_service_source = work.source(rule);
    return;
  }
  const DemandRule& rule = work.rule_of("service", "least service");
  result.least_service_amps = rule.figure("amps");
  result.least_service_source = work.source(rule);
}

}  // namespace

void compare_demand(DemandWork& work) {
  DemandResult& result = work.result;
  take_least_service(work);
  result.compared_amps = result.amps;
  if (work.method.name != "canadian") {
    const DemandRule& ratings = work.rule_of("service", "standard ratings");
    result.compared_amps = whole_amps(result.amps);
    result.next_rating_amps =
        next_rating(ratings, std::max(result.compared_amps, result.least_service_amps));
    result.next_rating_source = work.source(ratings);
    result.rounding_source = work.source(work.rule_of("service", "rounding"));
  }
  const std::optional<Service>& described = work.house.service;
  if (described && described->breaker_a) {
    result.limits.push_back({"service breaker", *described->breaker_a, ""});
  }
  const std::optional<double>& main = work.house.panels.front().breaker_a;
  if (main && (!described || !described->breaker_a || *main < *described->breaker_a)) {
    result.limits.push_back({"breaker of the first panel", *main, ""});
  }
  add_conductor_limits(work);
  for (const DemandLimit& limit : result.limits) {
    const double spare = limit.amps - result.compared_amps;
    result.spare_amps = std::min(spare, result.spare_amps.value_or(spare));
  }
}

}  // namespace evenleg
