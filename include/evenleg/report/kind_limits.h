// What kinds of load are taken to withstand without end, for the lists at the foot of a report.
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/report/source_list.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// Loads of kinds that share a figure and its source.
struct KindLimit {
  std::string figure;  // "132 V", "110 % of nameplate"
  std::string source;  // its mark in the list of sources
  std::vector<std::string> kinds;
  std::size_t loads = 0;
};

// In the order of the loads; those with their own max_volts are left out. `loads`: indices.
[[nodiscard]] std::vector<KindLimit> kind_limits(const House& house, const Tables& tables,
                                                 const std::vector<int>& loads,
                                                 SourceList& sources);

// How many of these loads have their own max_volts.
[[nodiscard]] std::size_t with_own_limit(const House& house, const std::vector<int>& loads);

// 0, 1, 2 ... for each load of a house.
[[nodiscard]] std::vector<int> every_load(const House& house);

}  // namespace evenleg
