#include "evenleg/audit/harmonics.h"

#include <algorithm>
#include <functional>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

using PhasorOf = std::function<Complex(const Solution&)>;

std::vector<double> magnitudes(const HarmonicSolution& solution, const PhasorOf& phasor) {
  std::vector<double> found;
  for (const Solution& state : solution.states) found.push_back(std::abs(phasor(state)));
  return found;
}

HarmonicCurrent current(const HarmonicSolution& solution, const PhasorOf& phasor) {
  const std::vector<double> found = magnitudes(solution, phasor);
  HarmonicCurrent current;
  current.rms = amps(total_rms(found));
  current.distortion = distortion(found);
  for (std::size_t i = 0; i < found.size(); ++i) {
    current.orders.push_back({solution.orders[i], amps(found[i])});
  }
  return current;
}

PhasorOf neutral_phasor(const Place& place) {
  if (place.kind == PlaceKind::Service) {
    return [](const Solution& state) { return state.service_neutral_amps; };
  }
  if (place.kind == PlaceKind::Feeder) {
    return [place](const Solution& state) { return state.panels[at(place.panel)].neutral_amps; };
  }
  return [place](const Solution& state) {
    return state.boxes[at(place.cable)][at(place.box)].neutral_amps;
  };
}

std::optional<double> leg_distortion(const HarmonicSolution& solution, std::size_t leg) {
  return distortion(magnitudes(solution, [leg](const Solution& state) {
    return state.panels.front().hot[leg] - state.panels.front().neutral;
  }));
}

void name_loads(const FoundState& found, const std::vector<LoadSpectrum>& spectra,
                Harmonics& harmonics) {
  for (std::size_t l = 0; l < spectra.size(); ++l) {
    if (!found.on[l] || spectra[l].empty()) continue;
    harmonics.loads.push_back(static_cast<int>(l));
    if (!found.house.loads[l].spectrum.empty()) continue;
    const LoadKind* kind = find_kind(found.tables, found.house.loads[l].kind);
    const Citation& source = find_spectrum(found.tables.spectra, kind->name)->source;
    std::vector<Citation>& sources = harmonics.sources;
    if (std::find(sources.begin(), sources.end(), source) == sources.end()) {
      sources.push_back(source);
    }
  }
}

}  // namespace

std::optional<Harmonics> find_harmonics(const FoundState& found, std::span<const Place> neutrals) {
  Harmonics harmonics;
  const std::vector<LoadSpectrum> spectra = spectra_of(found.house, found.tables);
  name_loads(found, spectra, harmonics);
  if (harmonics.loads.empty()) return std::nullopt;
  const std::vector<Complex> y = admittances(found.model, found.on);
  const NeutralFault degraded{{"service", PlaceKind::Service, 0, -1, -1}, found.degraded_ohms};
  const HarmonicSolution sound = solve_harmonics(found.model, y, spectra);
  const HarmonicSolution worse = solve_harmonics(found.model, y, spectra, degraded);
  const bool solved = sound.status == SolveStatus::Solved && worse.status == SolveStatus::Solved;
  if (!solved) return std::nullopt;
  harmonics.degraded_neutral = ohms(found.degraded_ohms);
  for (std::size_t leg = 0; leg < found.model.panels.front().legs.size(); ++leg) {
    const auto amps_of_leg = [leg](const Solution& state) {
      return state.panels.front().hot_amps[leg];
    };
    harmonics.legs.push_back(
        {current(sound, amps_of_leg), leg_distortion(sound, leg), leg_distortion(worse, leg)});
  }
  for (const Place& place : neutrals) {
    harmonics.neutrals.push_back(current(sound, neutral_phasor(place)));
  }
  return harmonics;
}

}  // namespace evenleg
