// A house and its balance put together by hand.
//
// After F. H. Richardson, Bluebook of Projection, p. 101: loads of 6, 6 and 4 A on one leg, 4 and 4
// A on the other: 16 A and 8 A; the third moved over, 12 and 12 A. Imbalance as found: mean 12, the
// furthest leg 4 off it, 33.3 %; (16 - 8)/16 = 50.0 %; 8/12 = 66.7 %. In "Evening" the first and
// the third run: 10 A and 0 A, 100 %, 100 %, 10/5 = 200 %; moved, 6 A and 4 A, 2 A apart. So the
// plan's spread is 2 A, and no plan's is smaller, since 6 and 4 stay 2 apart at best.
#pragma once

#include "evenleg/report/balance_text.h"

namespace evenleg {

struct SampleBalance {
  House house;
  Tables tables;
  Balance balance;

  [[nodiscard]] BalanceReport report() const { return {house, tables, balance}; }
};

[[nodiscard]] SampleBalance sample_balance();
// The house with the sample's only plan: circuit "Three" in space 7.
[[nodiscard]] PlannedHouse sample_planned();
// A service neutral of 8 A as found, 16 A at most; 2 of 5 loads past, the worst "Load 4" at 1.75.
[[nodiscard]] NeutralFigures sample_figures();

}  // namespace evenleg
