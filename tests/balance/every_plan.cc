#include "tests/balance/every_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "evenleg/base/index.h"
#include "evenleg/house/validate.h"

namespace evenleg {
namespace {

// One panel, the first; rows of it are on legs in turn.
class Enumerator {
 public:
  Enumerator(const House& house, const Tables& tables, bool keep_spares)
      : house_(house), wiring_(wire(house, *find_system(vocabulary(tables), house.supply.system))),
        loads_(circuit_loads(house, wiring_, tables)), keep_spares_(keep_spares),
        legs_(static_cast<int>(wiring_.panels[0].legs.size())) {
    group_.assign(house.circuits.size(), -1);
    for (std::size_t m = 0; m < house.multiwires.size(); ++m) {
      for (std::size_t c = 0; c < house.circuits.size(); ++c) {
        const auto& names = house.multiwires[m].circuits;
        if (std::count(names.begin(), names.end(), house.circuits[c].name) > 0) {
          group_[c] = static_cast<int>(m);
        }
      }
    }
    for (std::size_t c = 0; c < house.circuits.size(); ++c) {
      start_.push_back(wiring_.circuit_legs[c][0]);
      fixed_.push_back(house.circuits[c].locked);
      for (std::size_t d = 0; d < house.circuits.size(); ++d) {
        if (group_[c] >= 0 && group_[d] == group_[c] && house.circuits[d].locked) fixed_[c] = true;
      }
      half_.push_back(false);
      for (std::size_t d = 0; d < house.circuits.size(); ++d) {
        if (d != c && house.circuits[d].space == house.circuits[c].space) half_[c] = true;
      }
      if (half_[c] && house.circuits[c].protection != "standard") fixed_[c] = true;
      if (house.circuits[c].poles == 2 && legs_ == 2) pairs_stay_ = true;
    }
  }

  std::vector<double> run() {
    best_.assign(house_.circuits.size() + 1, std::numeric_limits<double>::infinity());
    choice_ = start_;
    choose(0, 0);
    return best_;
  }

 private:
  void choose(std::size_t c, int moves) {
    if (c == choice_.size()) return judge(moves);
    const bool stays = fixed_[c] || (house_.circuits[c].poles == 2 && legs_ == 2);
    for (int leg = 0; leg < legs_; ++leg) {
      if (stays && leg != start_[c]) continue;
      choice_[c] = leg;
      bool clash = false;
      for (std::size_t d = 0; d < c; ++d) {
        clash = clash || (group_[c] >= 0 && group_[d] == group_[c] && choice_[d] == leg &&
                          !fixed_[c]);
      }
      if (!clash) choose(c + 1, moves + (leg != start_[c] ? 1 : 0));
    }
    choice_[c] = start_[c];
  }

  void judge(int moves) {
    double most = 0;
    std::vector<double> legs(wiring_.system.legs.size());
    for (const CircuitLoads& loads : loads_) {
      std::fill(legs.begin(), legs.end(), 0.0);
      for (std::size_t c = 0; c < choice_.size(); ++c) {
        for (std::size_t pole = 0; pole < loads.amps[c].size(); ++pole) {
          legs[(at(choice_[c]) + pole) % at(legs_)] += loads.amps[c][pole];
        }
      }
      most = std::max(most, spread(legs));
      if (most >= best_[at(moves)]) return;
    }
    if (can_be_built()) best_[at(moves)] = most;
  }

  // What decides it: how many of each sort sit on each leg.
  bool can_be_built() {
    std::vector<int> key;
    blocks_.clear();
    std::vector<int> own(at(legs_), 0), any(at(legs_), 0);
    std::set<int> seen;
    for (std::size_t c = 0; c < choice_.size(); ++c) {
      if (fixed_[c]) continue;
      if (house_.circuits[c].poles == 2) {
        bool even = true;
        for (const CircuitLoads& loads : loads_) {
          even = even && loads.amps[c][0] == loads.amps[c][1];
        }
        blocks_.push_back(legs_ == 2 && even ? -1 : choice_[c]);
        continue;
      }
      if (group_[c] >= 0 && is_block(group_[c])) {
        if (!seen.insert(group_[c]).second) continue;
        blocks_.push_back(block_start(group_[c]));
        continue;
      }
      ++(house_.circuits[c].protection == "standard" ? any : own)[at(choice_[c])];
    }
    std::sort(blocks_.begin(), blocks_.end());
    key = blocks_;
    key.insert(key.end(), own.begin(), own.end());
    key.insert(key.end(), any.begin(), any.end());
    const auto known = known_.find(key);
    if (known != known_.end()) return known->second;
    open_.assign(at(house_.panels[0].spaces) + 1, !keep_spares_);
    std::vector<int> halves(at(legs_), 0);
    for (const bool stays : {false, true}) {
      for (std::size_t c = 0; c < choice_.size(); ++c) {
        if (fixed_[c] != stays) continue;
        for (int pole = 0; pole < house_.circuits[c].poles; ++pole) {
          open_[at(*house_.circuits[c].space + 2 * pole)] = !stays && !half_[c];
        }
      }
    }
    for (std::size_t c = 0; c < choice_.size(); ++c) {
      if (!half_[c]) continue;
      open_[at(*house_.circuits[c].space)] = false;
      if (!fixed_[c]) ++halves[at(start_[c])];
    }
    return known_[key] = lay(0, own, any, halves);
  }

  bool lay(std::size_t block, const std::vector<int>& own, const std::vector<int>& any,
           const std::vector<int>& halves) {
    if (block == blocks_.size()) {
      std::vector<int> left(at(legs_), 0);
      for (std::size_t space = 1; space < open_.size(); ++space) {
        if (open_[space]) ++left[(space - 1) / 2 % at(legs_)];
      }
      for (std::size_t leg = 0; leg < at(legs_); ++leg) {
        if (own[leg] > left[leg] || own[leg] + any[leg] > left[leg] + halves[leg]) return false;
      }
      return true;
    }
    for (std::size_t space = 1; space + 2 < open_.size(); ++space) {
      const int leg = static_cast<int>(space - 1) / 2 % legs_;
      if (!open_[space] || !open_[space + 2]) continue;
      if (blocks_[block] >= 0 && blocks_[block] != leg) continue;
      open_[space] = open_[space + 2] = false;
      const bool fits = lay(block + 1, own, any, halves);
      open_[space] = open_[space + 2] = true;
      if (fits) return true;
    }
    return false;
  }

  [[nodiscard]] std::vector<std::size_t> members(int group) const {
    std::vector<std::size_t> circuits;
    for (std::size_t c = 0; c < group_.size(); ++c) {
      if (group_[c] == group) circuits.push_back(c);
    }
    return circuits;
  }
  [[nodiscard]] bool is_block(int group) const {
    const std::vector<std::size_t> circuits = members(group);
    const int apart = *house_.circuits[circuits[1]].space - *house_.circuits[circuits[0]].space;
    bool moved = false;
    for (std::size_t c : circuits) moved = moved || choice_[c] != start_[c];
    return moved || std::abs(apart) == 2;
  }
  [[nodiscard]] int block_start(int group) const {
    if (legs_ == 2) return -1;
    const std::vector<std::size_t> circuits = members(group);
    const int a = choice_[circuits[0]];
    const int b = choice_[circuits[1]];
    return (a + 1) % legs_ == b ? a : b;
  }

  const House& house_;
  Wiring wiring_;
  std::vector<CircuitLoads> loads_;
  bool keep_spares_;
  int legs_;
  bool pairs_stay_ = false;
  std::vector<int> group_, start_, choice_, blocks_;
  std::vector<bool> fixed_, half_, open_;
  std::vector<double> best_;
  std::map<std::vector<int>, bool> known_;
};

}  // namespace

std::vector<double> every_plan(const House& house, const Tables& tables, bool keep_spares) {
  return Enumerator(house, tables, keep_spares).run();
}

std::string not_buildable(const House& before, const House& planned, const Tables& tables) {
  const Vocabulary words = vocabulary(tables);
  const auto faults = validate(planned, words);
  if (!faults.empty()) return "the house is not valid";
  const Wiring was = wire(before, *find_system(words, before.supply.system));
  const Wiring is = wire(planned, *find_system(words, planned.supply.system));
  for (std::size_t c = 0; c < planned.circuits.size(); ++c) {
    if (before.circuits[c].locked && !(before.circuits[c] == planned.circuits[c])) {
      return "a locked circuit moved";
    }
  }
  for (const Multiwire& multiwire : planned.multiwires) {
    std::vector<int> spaces;
    std::vector<int> legs;
    bool moved = false;
    for (std::size_t c = 0; c < planned.circuits.size(); ++c) {
      const auto& names = multiwire.circuits;
      if (std::count(names.begin(), names.end(), planned.circuits[c].name) == 0) continue;
      spaces.push_back(*planned.circuits[c].space);
      legs.push_back(is.circuit_legs[c][0]);
      moved = moved || is.circuit_legs[c] != was.circuit_legs[c];
    }
    if (legs[0] == legs[1]) return multiwire.name + " is on one leg";
    if (moved && std::abs(spaces[0] - spaces[1]) != 2) return multiwire.name + " is not joined";
  }
  return "";
}

}  // namespace evenleg
