#include "evenleg/audit/seen_state.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "evenleg/audit/credible.h"
#include "evenleg/base/index.h"
#include "src/audit/neutral_rating.h"
#include "src/audit/ranking.h"
#include "src/audit/running.h"

namespace evenleg {
namespace {

// One answer, filled from the engine's two: with the fault, and with every neutral sound.
class Seeing {
 public:
  Seeing(const StateWatcher& watcher, const Tables& tables, const AskedState& asked)
      : watcher_(watcher),
        tables_(tables),
        asked_(asked),
        solved_(solve(watcher.model(), admittances(watcher.model(), asked.on), asked.fault)),
        sound_(asked.fault ? solve(watcher.model(), admittances(watcher.model(), asked.on))
                           : solved_) {}

  [[nodiscard]] SeenState seen() const {
    SeenState seen;
    seen.status = solved_.status;
    if (solved_.status != SolveStatus::Solved) return seen;
    const PanelState& first = solved_.panels.front();
    seen.service_neutral_amps = amps(std::abs(solved_.service_neutral_amps));
    seen.earth_return_amps = amps(std::abs(solved_.earth_return_amps));
    seen.neutral_shift = volts(first.isolated ? 0 : std::abs(first.neutral));
    for (std::size_t p = 0; p < solved_.panels.size(); ++p) seen.panels.push_back(panel(p));
    for (const Place& place : watcher_.places()) seen.neutrals.push_back(neutral(place));
    seen.circuit_amps = circuits();
    for (std::size_t o = 0; o < house().outlets.size(); ++o) seen.outlets.push_back(outlet(o));
    for (std::size_t l = 0; l < house().loads.size(); ++l) seen.loads.push_back(load(l));
    seen.not_credible = not_credible();
    return seen;
  }

 private:
  [[nodiscard]] const House& house() const { return watcher_.house(); }
  [[nodiscard]] const Model& model() const { return watcher_.model(); }

  [[nodiscard]] SeenPanel panel(std::size_t p) const {
    const PanelState& state = solved_.panels[p];
    SeenPanel seen;
    seen.isolated = state.isolated;
    seen.neutral_amps = amps(std::abs(state.neutral_amps));
    const std::vector<int>& legs = model().panels[p].legs;
    for (std::size_t i = 0; i < legs.size(); ++i) {
      std::optional<Volts> to_neutral;
      if (!state.isolated) to_neutral = volts(std::abs(state.hot[i] - state.neutral));
      seen.legs.push_back({watcher_.wiring().system.legs[at(legs[i])].name, to_neutral,
                           amps(std::abs(state.hot_amps[i]))});
    }
    return seen;
  }

  [[nodiscard]] SeenNeutral neutral(const Place& place) const {
    SeenNeutral seen{place, {}, {}};
    if (place.kind == PlaceKind::Service) {
      seen.amps = amps(std::abs(solved_.service_neutral_amps));
    } else if (place.kind == PlaceKind::Feeder) {
      seen.amps = amps(std::abs(solved_.panels[at(place.panel)].neutral_amps));
    } else {
      seen.amps = amps(std::abs(solved_.boxes[at(place.cable)][at(place.box)].neutral_amps));
    }
    if (const auto rating = neutral_rating(house(), watcher_.wiring(), tables_, place)) {
      seen.rated_amps = rating->amps;
    }
    return seen;
  }

  // Every load's current out of its first end and into its second, hot by hot at the panel.
  [[nodiscard]] std::vector<std::vector<Amps>> circuits() const {
    std::vector<std::vector<Complex>> of_hots;
    for (const CableModel& cable : model().cables) of_hots.emplace_back(cable.hots.size());
    for (std::size_t l = 0; l < model().loads.size(); ++l) {
      const LoadModel& load = model().loads[l];
      std::vector<Complex>& hots = of_hots[at(load.cable)];
      hots[at(load.from)] += solved_.load_amps[l];
      if (load.to != kNeutral) hots[at(load.to)] -= solved_.load_amps[l];
    }
    std::vector<std::vector<Amps>> amps_of(house().circuits.size());
    for (std::size_t c = 0; c < model().cables.size(); ++c) {
      for (std::size_t h = 0; h < model().cables[c].hots.size(); ++h) {
        const int circuit = model().cables[c].hots[h].circuit;
        amps_of[at(circuit)].push_back(amps(std::abs(of_hots[c][h])));
      }
    }
    return amps_of;
  }

  [[nodiscard]] std::vector<SeenTerminals> outlet(std::size_t o) const {
    const Wiring& wiring = watcher_.wiring();
    const auto cable = at(wiring.outlet_cable[o]);
    const auto box = at(wiring.outlet_box[o]);
    const BoxState& state = solved_.boxes[cable][box];
    std::vector<SeenTerminals> seen;
    for (int hot : model().cables[cable].boxes[box].hots) {
      std::optional<Volts> to_neutral;
      if (!state.isolated) to_neutral = volts(std::abs(state.hot[at(hot)] - state.neutral));
      seen.push_back({legs_text(wiring, wiring.cables[cable], hot, kNeutral), to_neutral});
    }
    return seen;
  }

  [[nodiscard]] std::optional<Volts> across(const Solution& solution, std::size_t l) const {
    const LoadModel& load = model().loads[l];
    const bool hangs = load.to == kNeutral && solution.boxes[at(load.cable)][at(load.box)].isolated;
    if (hangs) return std::nullopt;
    return volts(std::abs(solution.load_volts[l]));
  }

  [[nodiscard]] SeenLoad load(std::size_t l) const {
    const LoadModel& load = model().loads[l];
    const WiredLoad& wired = watcher_.wiring().loads[l];
    SeenLoad seen;
    seen.legs = legs_text(watcher_.wiring(), watcher_.wiring().cables[at(wired.cable)], wired.from,
                          wired.to);
    seen.volts = across(solved_, l);
    if (sound_.status == SolveStatus::Solved) seen.sound_volts = across(sound_, l);
    seen.amps = amps(std::abs(solved_.load_amps[l]));
    seen.watts = watts((solved_.load_volts[l] * std::conj(solved_.load_amps[l])).real());
    seen.nominal = volts(load.nominal_volts);
    seen.withstands = withstood_volts(house().loads[l], load, tables_);
    return seen;
  }

  // The audit's own sentences, of a house in which these loads are on as found.
  [[nodiscard]] std::vector<std::string> not_credible() const {
    House asked_house = house();
    Model asked_model = model();
    for (std::size_t l = 0; l < asked_.on.size(); ++l) {
      asked_house.loads[l].on = asked_.on[l];
      asked_model.loads[l].on = asked_.on[l];
    }
    return why_not_credible(asked_house, watcher_.wiring(), asked_model, "here");
  }

  const StateWatcher& watcher_;
  const Tables& tables_;
  const AskedState& asked_;
  Solution solved_;
  Solution sound_;
};

}  // namespace

StateWatcher::StateWatcher(House house, const Tables& tables)
    : house_(std::move(house)), tables_(tables) {
  const Vocabulary words = vocabulary(tables);
  wiring_ = wire(house_, *find_system(words, house_.supply.system));
  model_ = build_model(house_, wiring_, tables);
  places_ = fault_places(house_, wiring_);
}

std::vector<bool> StateWatcher::running(const std::optional<std::string>& scenario) const {
  return loads_running(house_, model_, scenario);
}

SeenState StateWatcher::at(const AskedState& asked) const {
  return Seeing(*this, tables_, asked).seen();
}

}  // namespace evenleg
