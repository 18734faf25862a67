// Between which conductors a load is connected: L-N, L-L, or legs by name. What a load says must
// leave one meaning only.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "src/house/reach.h"

namespace evenleg {
namespace {

struct Connection {
  std::string first, second;
};

// "L1-L2" in two parts; nothing where it is not of that form.
std::optional<Connection> parsed(const std::string& connect) {
  const std::size_t dash = connect.find('-');
  if (dash == std::string::npos) return std::nullopt;
  Connection made{connect.substr(0, dash), connect.substr(dash + 1)};
  if (made.first.empty() || made.second.empty() || made.first == "N") return std::nullopt;
  const bool bare = made.first == "L" || made.second == "L";
  if (bare && connect != "L-N" && connect != "L-L") return std::nullopt;
  return made;
}

std::vector<std::string> leg_names(const Reach& reach) {
  std::vector<std::string> names;
  for (const auto& hot : reach.hots) names.push_back(hot.leg);
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

// "L1-N or L2-N": what the load could say instead.
std::string to_neutral(const Reach& reach) {
  std::vector<std::string> choices;
  for (const std::string& leg : leg_names(reach)) choices.push_back(leg + "-N");
  return fmt::format("{}", fmt::join(choices, " or "));
}

std::string pairs(const Reach& reach) {
  const std::vector<std::string> legs = leg_names(reach);
  std::vector<std::string> choices;
  for (std::size_t a = 0; a < legs.size(); ++a) {
    for (std::size_t b = a + 1; b < legs.size(); ++b) choices.push_back(legs[a] + "-" + legs[b]);
  }
  return fmt::format("{}", fmt::join(choices, " or "));
}

void say(Judge& judge, std::size_t l, std::string what, std::string remedy) {
  judge.fault("load", l, "connect", std::move(what), std::move(remedy));
}

// No leg is named: the hots that the load may use must leave one meaning only.
void judge_unnamed(Judge& judge, std::size_t l, const Reach& usable, std::string_view connect,
                   bool which_hot_is_open) {
  const std::size_t hots = usable.hots.size();
  const std::string& at = judge.house.loads[l].at;
  if (connect == "L-N" && hots > 1) {
    say(judge, l,
        fmt::format("{} hot conductors reach \"{}\", and L-N does not say which", hots, at),
        which_hot_is_open ? fmt::format("name its circuit, or write {}", to_neutral(usable))
                          : fmt::format("write {}", to_neutral(usable)));
  } else if (connect == "L-L" && hots == 1) {
    say(judge, l, fmt::format("only one hot conductor reaches \"{}\"", at),
        "write L-N, or give the circuit its poles");
  } else if (connect == "L-L" && hots > 2) {
    say(judge, l,
        fmt::format("{} hot conductors reach \"{}\", and L-L does not say which two", hots, at),
        fmt::format("write {}", pairs(usable)));
  } else if (connect == "L-L" && leg_names(usable).size() < 2) {
    say(judge, l,
        fmt::format("both hot conductors at \"{}\" are on leg {}", at, usable.hots[0].leg),
        "write L-N and name the circuit");
  }
}

// A named leg must be that of exactly one hot that the load may use.
void judge_leg(Judge& judge, std::size_t l, const Reach& usable, const std::string& leg,
               std::string_view remedy_if_several) {
  const auto count = std::count_if(usable.hots.begin(), usable.hots.end(),
                                   [&](const auto& hot) { return hot.leg == leg; });
  const std::string& at = judge.house.loads[l].at;
  if (count == 0) {
    say(judge, l, fmt::format("leg {} does not reach \"{}\"", leg, at),
        fmt::format("choose from {}", listed(leg_names(usable))));
  } else if (count > 1) {
    say(judge, l, fmt::format("{} hot conductors on leg {} reach \"{}\"", count, leg, at),
        std::string(remedy_if_several));
  }
}

void judge_two_legs(Judge& judge, std::size_t l, const Reach& reach, const Reach& usable,
                    const Connection& ends) {
  // Between two named legs the circuit may be one of them only, so every hot counts.
  constexpr std::string_view kRemedy = "name a circuit that has both poles and write L-L";
  judge_leg(judge, l, reach, ends.first, kRemedy);
  judge_leg(judge, l, reach, ends.second, kRemedy);
  const bool uses_circuit =
      std::any_of(usable.hots.begin(), usable.hots.end(),
                  [&](const auto& hot) { return hot.leg == ends.first || hot.leg == ends.second; });
  if (uses_circuit) return;
  const Load& load = judge.house.loads[l];
  if (!load.circuit) return;
  say(judge, l, fmt::format("circuit \"{}\" is on neither leg of {}", *load.circuit, *load.connect),
      "leave circuit out, or name its leg");
}

}  // namespace

void judge_connection(Judge& judge, std::size_t l, const Reach& reach, std::optional<int> circuit) {
  const Load& load = judge.house.loads[l];
  Reach usable = reach;
  if (circuit) std::erase_if(usable.hots, [&](const auto& hot) { return hot.circuit != *circuit; });
  if (!load.connect && reach.shared && !circuit) {
    say(judge, l,
        fmt::format("{} hot conductors reach \"{}\", and nothing says which one this load uses",
                    usable.hots.size(), load.at),
        fmt::format("name its circuit, or write {}", to_neutral(usable)));
    return;
  }
  const std::string connect = load.connect              ? *load.connect
                              : usable.hots.size() == 1 ? "L-N"
                                                        : "L-L";
  const auto ends = parsed(connect);
  if (!ends) {
    say(judge, l, fmt::format("\"{}\" is not a connection", connect),
        "write L-N, L-L, or legs such as L1-N or L1-L2");
  } else if (ends->first == "L") {
    judge_unnamed(judge, l, usable, connect, reach.shared && !circuit);
  } else if (ends->first == ends->second) {
    say(judge, l, fmt::format("\"{}\" begins and ends on the same leg", connect),
        "name two different legs, or one and N");
  } else if (ends->second == "N") {
    judge_leg(judge, l, usable, ends->first, "name the circuit whose hot the load uses");
  } else {
    judge_two_legs(judge, l, reach, usable, *ends);
  }
}

}  // namespace evenleg
