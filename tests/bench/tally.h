// How many extremes there are, and how many of them are proven.
#pragma once

#include <benchmark/benchmark.h>

#include <optional>

#include "evenleg/audit/audit.h"

namespace evenleg {

struct Tally {
  int extremes = 0;
  int proven = 0;

  template <class Quantity>
  void add(const std::optional<Extreme<Quantity>>& extreme) {
    if (!extreme) return;
    ++extremes;
    if (extreme->proven) ++proven;
  }

  void count_in(benchmark::State& state) const {
    state.counters["extremes"] = extremes;
    state.counters["proven"] = proven;
  }
};

}  // namespace evenleg
