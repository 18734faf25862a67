#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/audit/neutral.h"
#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/report/audit_words.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

void count_loads(const Job& job, const OpenNeutral& open, Exposure& all, std::vector<bool>& past) {
  for (const LoadExtremes& row : open.loads) {
    const auto limit = job.withstands(row.load);
    if (!limit || !row.highest) continue;
    const auto load = static_cast<std::size_t>(row.load);
    past[load] = past[load] || most_of(*row.highest) > *limit;
    const double most = most_of(*row.highest);
    if (all.worst_load >= 0 && most / *limit <= all.worst_volts / all.worst_withstands) continue;
    all.worst_load = row.load;
    all.worst_volts = most;
    all.worst_withstands = *limit;
    all.worst_open = &open;
  }
}

void count_outlets(const Job& job, const OpenNeutral& open, Exposure& all,
                   std::vector<bool>& past) {
  for (const OutletExtremes& row : open.outlets) {
    if (!row.highest || most_of(*row.highest) <= plain_limit(job)) continue;
    past[static_cast<std::size_t>(row.outlet)] = true;
    if (all.worst_outlet >= 0 && most_of(*row.highest) <= all.worst_outlet_volts) continue;
    all.worst_outlet = row.outlet;
    all.worst_outlet_volts = most_of(*row.highest);
  }
}

}  // namespace

double most_of(const Extreme<Volts>& highest) {
  const double bound = highest.bound.si();
  if (highest.proven || !std::isfinite(bound)) return highest.value.si();
  return std::max(bound, highest.value.si());
}

double least_of(const Extreme<Volts>& lowest) {
  const double bound = lowest.bound.si();
  if (lowest.proven || !std::isfinite(bound)) return lowest.value.si();
  return std::max(0.0, std::min(bound, lowest.value.si()));
}

double plain_limit(const Job& job) {
  const LoadKind* plain = find_kind(job.tables, "plain");
  constexpr double kUsual =
      1.1;  // of nominal, where the tables in use have no such kind: judgement
  const double nominal = job.system.nominal_volts;
  return plain == nullptr ? kUsual * nominal : withstood_volts(*plain, nominal);
}

Exposure exposure_at(const Job& job, const OpenNeutral* only) {
  Exposure all;
  std::vector<bool> past(job.house.loads.size());
  std::vector<bool> outlets(job.house.outlets.size());
  for (const OpenNeutral& open : job.audit.open_neutral) {
    if (only != nullptr && &open != only) continue;
    count_loads(job, open, all, past);
    count_outlets(job, open, all, outlets);
  }
  // Where places give nearly the same volts, the one that the ranking names.
  if (only == nullptr && !job.audit.ranking.empty()) {
    const RankRow& first = job.audit.ranking.front();
    all.worst_load = first.load;
    all.worst_open = &job.audit.open_neutral[static_cast<std::size_t>(first.place)];
    const LoadExtremes* extremes = extremes_of(*all.worst_open, first.load);
    all.worst_volts =
        extremes != nullptr && extremes->highest ? most_of(*extremes->highest) : first.volts.si();
    all.worst_withstands = first.withstands.si();
  }
  const auto count = [](const std::vector<bool>& of) {
    return static_cast<std::size_t>(std::count(of.begin(), of.end(), true));
  };
  all.loads_past = count(past);
  all.outlets_past = count(outlets);
  return all;
}

const OpenNeutral* event_place(const Fill& fill) {
  const std::vector<OpenNeutral>& all = fill.job.audit.open_neutral;
  if (all.empty()) return nullptr;
  if (fill.options.place) {
    const Place asked =
        place_named(fill.job.house, fill.job.wiring, *fill.options.place, "--place");
    const auto found = std::find_if(all.begin(), all.end(), [&](const OpenNeutral& one) {
      return one.place.kind == asked.kind && one.place.name == asked.name;
    });
    if (found != all.end()) return &*found;
  }
  for (const JointHeat& heat : joint_heats(diagnosis_view(fill.job))) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const OpenNeutral& one) {
      return one.place.name == heat.place;
    });
    if (found != all.end()) return &*found;
  }
  return &all.front();
}

std::vector<std::string> volts_beyond(Fill& fill, bool& high) {
  const VoltageLimits* limits = supply_limits(fill.job);
  std::vector<std::string> sentences;
  high = false;
  if (limits == nullptr) return sentences;
  struct Furthest {
    double volts = 0;
    std::string words;
  };
  Furthest highest{limits->most_volts, ""}, lowest{limits->least_volts, ""};
  const std::optional<double> Reading::*keys[] = {&Reading::l1_n_volts, &Reading::l2_n_volts,
                                                  &Reading::l3_n_volts};
  for (const Reading& reading : fill.job.house.readings) {
    for (std::size_t leg = 0; leg < std::min<std::size_t>(3, fill.job.system.legs.size()); ++leg) {
      const auto& volts = reading.*keys[leg];
      if (!volts || reading.main_off) continue;
      const std::string words =
          fmt::format("{} to neutral {} V at {}{}", fill.job.system.legs[leg].name,
                      as_read(volts).text, in_quotes(reading.at),
                      reading.label ? fmt::format(" ({})", in_quotes(*reading.label)) : "");
      if (*volts > highest.volts) highest = {*volts, words};
      if (*volts < lowest.volts) lowest = {*volts, words};
    }
  }
  high = !highest.words.empty();
  for (const Furthest* one : {&highest, &lowest}) {
    if (one->words.empty()) continue;
    sentences.push_back(fmt::format("Measured: {}, outside {} to {} V ({}, {}{}).", one->words,
                                    figure(limits->least_volts), figure(limits->most_volts),
                                    limits->name, limits->jurisdiction,
                                    marked(fill.sources, limits->source)));
  }
  return sentences;
}

}  // namespace evenleg
