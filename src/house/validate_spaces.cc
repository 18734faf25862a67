// Who sits in which space of which panel. A circuit of p poles takes every second space from its
// first; a feeder takes those that it names. Two single-pole circuits share a space as a tandem
// breaker where at least one of them says by `legs` which leg it is on.
#include <fmt/format.h>

#include <map>

#include "src/house/judge.h"

namespace evenleg {
namespace {

struct Occupant {
  std::string_view kind;
  std::size_t index = 0;
  bool single_pole = false;
  bool names_legs = false;
};

using Face = std::map<int, std::vector<Occupant>>;  // of one panel, by space

std::string text_of(const Judge& judge, const Occupant& occupant) {
  return occupant.kind == "circuit"
             ? fmt::format("circuit \"{}\"", judge.house.circuits[occupant.index].name)
             : fmt::format("the feeder of panel \"{}\"", judge.house.panels[occupant.index].name);
}

bool is_tandem(const std::vector<Occupant>& there, const Occupant& more) {
  return there.size() == 1 && there[0].single_pole && more.single_pole &&
         (there[0].names_legs || more.names_legs);
}

// Puts `occupant` into `spaces` of a panel and tells what is wrong with that, once.
void take(Judge& judge, const Panel& panel, Face& face, const Occupant& occupant,
          std::string_view key, const std::vector<int>& spaces) {
  bool told = false;
  for (int space : spaces) {
    if (space < 1 || space > panel.spaces) {
      if (!told) {
        judge.fault(occupant.kind, occupant.index, key,
                    fmt::format("space {} is beyond the {} spaces of panel \"{}\"", space,
                                panel.spaces, panel.name),
                    "choose a space that the panel has");
      }
      told = true;
      continue;
    }
    std::vector<Occupant>& there = face[space];
    if (!there.empty() && !is_tandem(there, occupant) && !told) {
      judge.fault(occupant.kind, occupant.index, key,
                  fmt::format("space {} of panel \"{}\" is taken by {}", space, panel.name,
                              text_of(judge, there.front())),
                  occupant.single_pole
                      ? "choose a free space, or give `legs` where a tandem breaker serves both"
                      : "choose free spaces");
      told = true;
    }
    there.push_back(occupant);
  }
}

std::vector<int> spaces_of(const Circuit& circuit) {
  std::vector<int> spaces;
  for (int pole = 0; pole < circuit.poles; ++pole) spaces.push_back(*circuit.space + 2 * pole);
  return spaces;
}

}  // namespace

void judge_spaces(Judge& judge) {
  std::vector<Face> faces(judge.house.panels.size());
  const auto known = [&](std::size_t panel) {
    return !judge.out_of_bounds("panel", panel, "spaces");
  };
  for (std::size_t c = 0; c < judge.house.circuits.size(); ++c) {
    const Circuit& circuit = judge.house.circuits[c];
    if (!circuit.space || judge.out_of_bounds("circuit", c, "space")) continue;
    if (judge.out_of_bounds("circuit", c, "poles") || faces.empty()) continue;
    const std::optional<int> found = circuit.panel ? find(judge.panels, *circuit.panel) : 0;
    if (!found || !known(static_cast<std::size_t>(*found))) continue;
    const auto panel = static_cast<std::size_t>(*found);
    const Occupant occupant{"circuit", c, circuit.poles == 1, !circuit.legs.empty()};
    take(judge, judge.house.panels[panel], faces[panel], occupant, "space", spaces_of(circuit));
  }
  for (std::size_t p = 1; p < judge.house.panels.size(); ++p) {
    const Panel& fed = judge.house.panels[p];
    if (!fed.fed_from || judge.out_of_bounds("panel", p, "at_spaces")) continue;
    const std::optional<int> found = find(judge.panels, *fed.fed_from);
    if (!found || !known(static_cast<std::size_t>(*found))) continue;
    const auto panel = static_cast<std::size_t>(*found);
    take(judge, judge.house.panels[panel], faces[panel], {"panel", p, false, false}, "at_spaces",
         fed.at_spaces);
  }
}

}  // namespace evenleg
