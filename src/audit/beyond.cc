// Which loads and empty outlets lie beyond a fault place.
#include <algorithm>

#include "evenleg/base/index.h"
#include "src/audit/fault_case.h"

namespace evenleg {
namespace {

// By cable and box: is its neutral beyond the place?
std::vector<std::vector<bool>> boxes_beyond(const Model& model, const Place& place) {
  std::vector<std::vector<bool>> beyond;
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    const CableModel& cable = model.cables[c];
    beyond.emplace_back(cable.boxes.size(), false);
    if (!in_cable(place)) {
      const std::vector<int> path = path_to_source(model, cable.neutral_panel);
      const bool all = std::find(path.begin(), path.end(), place.panel) != path.end();
      beyond.back().assign(cable.boxes.size(), all);
    } else if (place.cable == static_cast<int>(c)) {
      for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
        beyond[c][b] = place.box == static_cast<int>(b) ||
                       beyond[c][at(cable.boxes[b].upstream)];
      }
    }
  }
  return beyond;
}

}  // namespace

std::vector<Terminals> load_terminals_beyond(const Model& model, const Place& place) {
  const auto beyond = boxes_beyond(model, place);
  std::vector<Terminals> terminals;
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    if (load.to != kNeutral || !beyond[at(load.cable)][at(load.box)]) continue;
    terminals.push_back({load.cable, load.box, load.from, load.to, static_cast<int>(l)});
  }
  return terminals;
}

std::vector<std::pair<int, Terminals>> empty_terminals_beyond(const House& house,
                                                              const Wiring& wiring,
                                                              const Model& model,
                                                              const Place& place) {
  const auto beyond = boxes_beyond(model, place);
  std::vector<std::pair<int, Terminals>> terminals;
  for (std::size_t o = 0; o < house.outlets.size(); ++o) {
    const int cable = wiring.outlet_cable[o];
    const int box = wiring.outlet_box[o];
    const BoxModel& model_box = model.cables[at(cable)].boxes[at(box)];
    if (!model_box.loads.empty() || !beyond[at(cable)][at(box)]) continue;
    for (int hot : model_box.hots) {
      terminals.emplace_back(static_cast<int>(o), Terminals{cable, box, hot, kNeutral, -1});
    }
  }
  return terminals;
}

std::vector<OutletTerminals> outlet_terminals_beyond(const House& house, const Wiring& wiring,
                                                     const Model& model, const Place& place) {
  const auto beyond = boxes_beyond(model, place);
  std::vector<OutletTerminals> terminals;
  for (std::size_t o = 0; o < house.outlets.size(); ++o) {
    const int cable = wiring.outlet_cable[o];
    const int box = wiring.outlet_box[o];
    if (!beyond[at(cable)][at(box)]) continue;
    for (int hot : model.cables[at(cable)].boxes[at(box)].hots) {
      terminals.push_back({cable, box, hot, house.outlets[o].name});
    }
  }
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    if (load.to != kNeutral || !beyond[at(load.cable)][at(load.box)]) continue;
    const bool there =
        std::any_of(terminals.begin(), terminals.end(), [&](const OutletTerminals& t) {
          return t.cable == load.cable && t.box == load.box && t.hot == load.from;
        });
    if (!there) terminals.push_back({load.cable, load.box, load.from, house.loads[l].at});
  }
  return terminals;
}

}  // namespace evenleg
