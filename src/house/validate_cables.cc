// Multiwires and their circuits; outlets and what is upstream of each.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/house/limits.h"
#include "src/house/judge.h"

namespace evenleg {
namespace {

// Ungrounded conductors in one cable: two three-pole circuits. The engine keeps small matrices of
// at most this size for each cable.
constexpr int kMostHotsOfCable = 6;

void judge_member(Judge& judge, std::size_t m, std::size_t c) {
  int& multiwire = judge.circuit_multiwire[c];
  const std::string& name = judge.house.circuits[c].name;
  if (multiwire >= 0) {
    const std::string& other = judge.house.multiwires[static_cast<std::size_t>(multiwire)].name;
    judge.fault("multiwire", m, "circuits",
                fmt::format("circuit \"{}\" is already part of multiwire \"{}\"", name, other),
                "list each circuit in one multiwire only");
  } else {
    multiwire = static_cast<int>(m);
  }
}

void judge_multiwire(Judge& judge, std::size_t m) {
  const Multiwire& multiwire = judge.house.multiwires[m];
  std::set<std::string> seen;
  int hots = 0;
  bool countable = !judge.out_of_bounds("multiwire", m, "circuits") && !multiwire.circuits.empty();
  for (const std::string& name : multiwire.circuits) {
    const auto circuit = find(judge.circuits, name);
    if (!circuit) {
      judge.fault("multiwire", m, "circuits", fmt::format("no circuit is called \"{}\"", name),
                  remedy_for_unknown("circuit", name, names_in(judge.circuits)));
      countable = false;
    } else if (!seen.insert(name).second) {
      judge.fault("multiwire", m, "circuits", fmt::format("circuit \"{}\" is listed twice", name),
                  "list it once");
    } else {
      const auto c = static_cast<std::size_t>(*circuit);
      countable = countable && !judge.out_of_bounds("circuit", c, "poles");
      if (countable) hots += judge.house.circuits[c].poles;
      judge_member(judge, m, c);
    }
  }
  if (countable && hots < 2) {
    judge.fault("multiwire", m, "circuits", "only one hot conductor shares this neutral",
                "list every circuit on it, or leave the multiwire out");
  }
  if (countable && hots > kMostHotsOfCable) {
    judge.fault("multiwire", m, "circuits",
                fmt::format("{} hot conductors share this neutral, and at most {} can be computed",
                            hots, kMostHotsOfCable),
                "split it into two multiwires");
  }
}

// The multiwire that an outlet's cable belongs to, -1: none, or not known.
int multiwire_of(const Judge& judge, const Outlet& outlet) {
  if (const auto circuit = find(judge.circuits, outlet.on)) {
    return judge.circuit_multiwire[static_cast<std::size_t>(*circuit)];
  }
  return find(judge.multiwires, outlet.on).value_or(-1);
}

void judge_on(Judge& judge, std::size_t o) {
  const std::string& on = judge.house.outlets[o].on;
  const bool circuit = find(judge.circuits, on).has_value();
  const bool multiwire = find(judge.multiwires, on).has_value();
  if (circuit && multiwire) {
    judge.fault("outlet", o, "on",
                fmt::format("both a circuit and a multiwire are called \"{}\"", on),
                "rename one of them");
  } else if (!circuit && !multiwire && !on.empty()) {
    std::vector<std::string> known = names_in(judge.circuits);
    for (std::string& name : names_in(judge.multiwires)) known.push_back(std::move(name));
    judge.fault("outlet", o, "on", fmt::format("no circuit or multiwire is called \"{}\"", on),
                remedy_for_unknown("circuit or multiwire", on, known));
  }
}

// The outlet named by `after`, if it may be upstream of this one.
std::optional<int> judge_after(Judge& judge, std::size_t o) {
  const Outlet& outlet = judge.house.outlets[o];
  const auto upstream = find(judge.outlets, *outlet.after);
  if (!upstream) {
    judge.fault("outlet", o, "after", fmt::format("no outlet is called \"{}\"", *outlet.after),
                remedy_for_unknown("outlet", *outlet.after, names_in(judge.outlets)));
    return std::nullopt;
  }
  const Outlet& before = judge.house.outlets[static_cast<std::size_t>(*upstream)];
  if (before.on == outlet.on) return upstream;
  const auto multiwire = find(judge.multiwires, before.on);
  const bool continues =
      multiwire && find(judge.circuits, outlet.on) && multiwire_of(judge, outlet) == *multiwire;
  if (continues) return upstream;
  judge.fault(
      "outlet", o, "after",
      fmt::format("outlet \"{}\" is on \"{}\", and this one is on \"{}\"", before.name, before.on,
                  outlet.on),
      "name an outlet of the same circuit, or of the multiwire that the circuit is part of");
  return std::nullopt;
}

// Each loop is told once, at the first outlet in it that has an `after`.
void judge_outlet_loops(Judge& judge, const std::vector<std::optional<int>>& upstream) {
  constexpr int kFresh = -1;
  std::vector<int> walk(upstream.size(), kFresh);  // the walk that came by first
  for (std::size_t start = 0; start < upstream.size(); ++start) {
    std::optional<int> at = static_cast<int>(start);
    while (at && walk[static_cast<std::size_t>(*at)] == kFresh) {
      walk[static_cast<std::size_t>(*at)] = static_cast<int>(start);
      at = upstream[static_cast<std::size_t>(*at)];
    }
    if (!at || walk[static_cast<std::size_t>(*at)] != static_cast<int>(start)) continue;
    std::vector<int> loop;
    for (int o = *at; loop.empty() || o != *at; o = *upstream[static_cast<std::size_t>(o)]) {
      loop.push_back(o);
    }
    std::sort(loop.begin(), loop.end());
    std::vector<std::string> names;
    for (int o : loop) names.push_back(judge.house.outlets[static_cast<std::size_t>(o)].name);
    const auto first = std::find_if(loop.begin(), loop.end(), [&](int o) {
      return judge.house.outlets[static_cast<std::size_t>(o)].after.has_value();
    });
    judge.fault("outlet", static_cast<std::size_t>(*first), "after",
                names.size() == 1
                    ? fmt::format("outlet \"{}\" is after itself", names[0])
                    : fmt::format("outlets {} are after each other in a loop", listed(names)),
                "start the cable at one of them: leave its `after` out and list it first");
  }
}

// Outlets that a multiwire itself reaches, not those of its circuits farther on.
void judge_shared_outlets(Judge& judge) {
  std::vector<std::size_t> of_each(judge.house.multiwires.size());
  std::size_t of_all = 0;
  for (std::size_t o = 0; o < judge.house.outlets.size(); ++o) {
    const std::string& on = judge.house.outlets[o].on;
    const auto multiwire = find(judge.multiwires, on);
    if (!multiwire) continue;
    if (++of_each[static_cast<std::size_t>(*multiwire)] == kMostOutletsOfMultiwire + 1) {
      judge.fault("outlet", o, "on",
                  fmt::format("\"{}\" has more than {} outlets", on, kMostOutletsOfMultiwire),
                  "enter as one the outlets that have nothing between them");
    }
    if (++of_all == kMostOutletsOfMultiwires + 1) {
      judge.fault("outlet", o, "on",
                  fmt::format("more than {} outlets are on multiwires", kMostOutletsOfMultiwires),
                  "enter as one the outlets that have nothing between them");
    }
  }
}

}  // namespace

void judge_cables(Judge& judge) {
  const House& house = judge.house;
  for (std::size_t m = 0; m < house.multiwires.size(); ++m) judge_multiwire(judge, m);
  std::vector<std::optional<int>> upstream(house.outlets.size());
  std::unordered_map<std::string, int> last;  // outlet listed before, by what it is on
  for (std::size_t o = 0; o < house.outlets.size(); ++o) {
    const Outlet& outlet = house.outlets[o];
    judge_on(judge, o);
    if (outlet.after) {
      upstream[o] = judge_after(judge, o);
    } else if (const auto found = last.find(outlet.on); found != last.end()) {
      upstream[o] = found->second;
    }
    last[outlet.on] = static_cast<int>(o);
  }
  judge_outlet_loops(judge, upstream);
  judge_shared_outlets(judge);
}

}  // namespace evenleg
