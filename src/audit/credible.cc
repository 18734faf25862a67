#include "evenleg/audit/credible.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"

namespace evenleg {
namespace {

// More than any dwelling's cable has once like loads are counted together; listing them all takes
// well under a second.
constexpr std::size_t kMostStates = 1U << 16U;
constexpr int kMostSharedGroups = 16;
// A breaker is exceeded by more than rounding.
constexpr double kRounding = 1e-9;

// Index of each noncoincident group that loads of more than one cable share.
std::map<std::string, int> shared_groups(const House& house, const Model& model) {
  std::map<std::string, int> first_cable;
  std::map<std::string, int> index;
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const auto& group = house.loads[l].noncoincident;
    if (!group || house.loads[l].switching == "always off") continue;
    const int cable = model.loads[l].cable;
    const auto [found, is_new] = first_cable.emplace(*group, cable);
    if (!is_new && found->second != cable && !index.count(*group)) {
      index.emplace(*group, static_cast<int>(index.size()));
    }
  }
  return index;
}

bool alike(const House& house, const Model& model, int a, int b) {
  const LoadModel& x = model.loads[at(a)];
  const LoadModel& y = model.loads[at(b)];
  return x.cable == y.cable && x.box == y.box && x.from == y.from && x.to == y.to &&
         x.admittance == y.admittance && breaker_amps(x) == breaker_amps(y) &&
         house.loads[at(a)].switching == house.loads[at(b)].switching &&
         house.loads[at(a)].noncoincident == house.loads[at(b)].noncoincident;
}

// Lists one cable's states, depth first over its loads.
class Lister {
 public:
  Lister(const House& house, const Model& model, int cable,
         const std::map<std::string, int>& shared)
      : house_(house), model_(model), shared_(shared),
        cable_(model.cables[at(cable)]), amps_(cable_.hots.size(), 0.0) {
    for (std::size_t i = 0; i < cable_.loads.size(); ++i) {
      int twin = -1;
      for (std::size_t j = i; j-- > 0 && twin < 0;) {
        if (alike(house, model, cable_.loads[i], cable_.loads[j])) twin = static_cast<int>(j);
      }
      previous_alike_.push_back(twin);
    }
  }

  CableStates list() {
    visit(0, {}, {});
    if (!found_.complete) select();
    return std::move(found_);
  }

 private:
  bool fits(const LoadModel& load) const {
    for (int hot : {load.from, load.to}) {
      if (hot == kNeutral) continue;
      const auto& breaker = house_.circuits[at(cable_.hots[at(hot)].circuit)].breaker_a;
      if (breaker && amps_[at(hot)] > *breaker * (1 + kRounding)) return false;
    }
    return true;
  }

  void add(const LoadModel& load, double sign) {
    for (int hot : {load.from, load.to}) {
      if (hot != kNeutral) amps_[at(hot)] += sign * breaker_amps(load);
    }
  }

  void visit(std::size_t i, CableState state, std::vector<std::string> groups) {
    if (found_.states.size() >= kMostStates) {
      found_.complete = false;
      return;
    }
    if (i == cable_.loads.size()) {
      found_.states.push_back(state);
      return;
    }
    const int l = cable_.loads[i];
    const Load& load = house_.loads[at(l)];
    if (load.switching != "always on") visit(i + 1, state, groups);
    if (load.switching == "always off") return;
    const int twin = previous_alike_[i];
    if (twin >= 0 && (state.on >> static_cast<unsigned>(twin) & 1U) == 0) return;
    if (load.noncoincident) {
      if (std::find(groups.begin(), groups.end(), *load.noncoincident) != groups.end()) return;
      groups.push_back(*load.noncoincident);
      const auto shared = shared_.find(*load.noncoincident);
      if (shared != shared_.end() && shared->second < kMostSharedGroups) {
        state.groups |= 1U << static_cast<unsigned>(shared->second);
      }
    }
    const LoadModel& model = model_.loads[at(l)];
    const std::vector<double> before = amps_;  // restored exactly, so that order leaves no trace
    add(model, 1);
    if (fits(model)) {
      state.on |= std::uint64_t{1} << i;
      visit(i + 1, state, groups);
    }
    amps_ = before;
  }

  // A state of these loads, if it is credible.
  std::optional<CableState> state_of(std::uint64_t on) {
    std::fill(amps_.begin(), amps_.end(), 0.0);
    std::set<std::string> groups;
    CableState state{on, 0};
    bool credible = true;
    for (std::size_t i = 0; i < cable_.loads.size(); ++i) {
      const Load& load = house_.loads[at(cable_.loads[i])];
      const bool is_on = (on >> i & 1U) != 0;
      if (load.switching == (is_on ? "always off" : "always on")) return std::nullopt;
      if (!is_on) continue;
      add(model_.loads[at(cable_.loads[i])], 1);
      credible = credible && fits(model_.loads[at(cable_.loads[i])]);
      if (!load.noncoincident) continue;
      credible = credible && groups.insert(*load.noncoincident).second;
      const auto shared = shared_.find(*load.noncoincident);
      if (shared != shared_.end() && shared->second < kMostSharedGroups) {
        state.groups |= 1U << static_cast<unsigned>(shared->second);
      }
    }
    if (!credible) return std::nullopt;
    return state;
  }

  // Where there are too many to list: for each load, what must run with it and nothing else, then the
  // others added one by one as far as the breakers allow, the largest first, the smallest first, and
  // those of each hot alone.
  void select() {
    std::vector<std::size_t> largest_first(cable_.loads.size());
    std::iota(largest_first.begin(), largest_first.end(), std::size_t{0});
    std::stable_sort(largest_first.begin(), largest_first.end(), [&](std::size_t a, std::size_t b) {
      return breaker_amps(model_.loads[at(cable_.loads[a])]) >
             breaker_amps(model_.loads[at(cable_.loads[b])]);
    });
    std::vector<std::vector<std::size_t>> orders{
        largest_first, {largest_first.rbegin(), largest_first.rend()}};
    for (std::size_t h = 0; h < cable_.hots.size(); ++h) {
      orders.emplace_back();
      for (std::size_t i : largest_first) {
        const bool here = model_.loads[at(cable_.loads[i])].from == static_cast<int>(h);
        if (here) orders.back().push_back(i);
      }
    }
    std::uint64_t always = 0;
    for (std::size_t i = 0; i < cable_.loads.size(); ++i) {
      const bool is_always = house_.loads[at(cable_.loads[i])].switching == "always on";
      if (is_always) always |= std::uint64_t{1} << i;
    }
    std::map<std::uint64_t, CableState> chosen;
    for (std::size_t first = 0; first <= cable_.loads.size(); ++first) {
      const std::uint64_t one =
          first < cable_.loads.size() ? std::uint64_t{1} << first : std::uint64_t{0};
      for (const std::vector<std::size_t>& order : orders) {
        std::optional<CableState> state = state_of(always | one);
        if (!state) break;
        chosen.emplace(state->on, *state);
        for (std::size_t next : order) {
          const auto more = state_of(state->on | std::uint64_t{1} << next);
          if (!more) continue;
          state = more;
          chosen.emplace(state->on, *state);
        }
      }
    }
    found_.states.clear();
    for (const auto& [on, state] : chosen) found_.states.push_back(state);
  }

  const House& house_;
  const Model& model_;
  const std::map<std::string, int>& shared_;
  const CableModel& cable_;
  std::vector<double> amps_;           // by hot
  std::vector<int> previous_alike_;    // position of the like load before, -1 for none
  CableStates found_;
};

}  // namespace

double breaker_amps(const LoadModel& load) { return load.nominal_volt_amps / load.nominal_volts; }

Credible credible_states(const House& house, const Model& model) {
  Credible credible;
  const std::map<std::string, int> shared = shared_groups(house, model);
  credible.shared_groups = std::min(static_cast<int>(shared.size()), kMostSharedGroups);
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    credible.cables.push_back(
        Lister(house, model, static_cast<int>(c), shared).list());
  }
  if (static_cast<int>(shared.size()) > kMostSharedGroups) {
    for (CableStates& cable : credible.cables) cable.complete = false;
  }
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    int stand_in = static_cast<int>(l);
    for (int other : model.cables[at(model.loads[l].cable)].loads) {
      if (other >= stand_in) break;
      if (alike(house, model, other, static_cast<int>(l))) stand_in = other;
    }
    credible.stand_in.push_back(stand_in);
  }
  return credible;
}

std::vector<std::string> why_not_credible(const House& house, const Wiring& wiring,
                                          const Model& model, std::string_view when) {
  std::vector<std::string> reasons;
  std::map<std::string, std::vector<std::string>> groups;
  std::map<std::pair<int, int>, double> amps;  // by cable and hot
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const Load& load = house.loads[l];
    const LoadModel& wired = model.loads[l];
    if (load.on && load.switching == "always off") {
      reasons.push_back(fmt::format("\"{}\" is on {}, though it is never on.", load.name, when));
    }
    if (!load.on && load.switching == "always on") {
      reasons.push_back(fmt::format("\"{}\" is off {}, though it is always on.", load.name, when));
    }
    if (!load.on) continue;
    if (load.noncoincident) groups[*load.noncoincident].push_back("\"" + load.name + "\"");
    for (int hot : {wired.from, wired.to}) {
      if (hot != kNeutral) amps[{wired.cable, hot}] += breaker_amps(wired);
    }
  }
  for (const auto& [group, names] : groups) {
    if (names.size() < 2) continue;
    reasons.push_back(fmt::format("{} are on together, though only one load of \"{}\" can be.",
                                  listed(names), group));
  }
  for (const auto& [where, sum] : amps) {
    const Hot& hot = wiring.cables[at(where.first)].hots[at(where.second)];
    const Circuit& circuit = house.circuits[at(hot.circuit)];
    if (!circuit.breaker_a || sum <= *circuit.breaker_a * (1 + kRounding)) continue;
    reasons.push_back(fmt::format(
        "\"{}\" carries {} A by nameplate on leg {}, beyond its {} A breaker.", circuit.name,
        figure(sum), wiring.system.legs[at(hot.leg)].name, figure(*circuit.breaker_a)));
  }
  return reasons;
}

}  // namespace evenleg
