// The engine against ngspice, run as a process of its own on random houses, whole and with every
// neutral faulty. Volts to 1e-6 of the source's. Without ngspice on the path the test says so and
// passes nothing.
#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/network/harmonics.h"
#include "evenleg/network/solve.h"
#include "evenleg/units/phasor.h"
#include "tests/check.h"
#include "tests/network/dice.h"
#include "tests/network/house_states.h"
#include "tests/network/ngspice_netlist.h"

namespace evenleg {
namespace {

constexpr double kAgreement = 1e-6;  // of the source's volts

void compare_node(Complex potential, bool isolated, int node,
                  const std::vector<std::optional<Complex>>& spice, double within) {
  const std::optional<Complex>& volts = spice[static_cast<std::size_t>(node)];
  CAPTURE(node);
  CHECK(isolated == !volts.has_value());
  if (volts) CHECK(close(potential, *volts, within));
}

void compare(const Solution& solution, const CircuitElements& elements,
             const std::vector<std::optional<Complex>>& spice, double within) {
  for (std::size_t p = 0; p < elements.panels.size(); ++p) {
    const PanelState& panel = solution.panels[p];
    const PanelNodes& nodes = elements.panels[p];
    compare_node(panel.neutral, panel.isolated, nodes.neutral, spice, within);
    for (std::size_t leg = 0; leg < nodes.hot.size(); ++leg) {
      compare_node(panel.hot[leg], false, nodes.hot[leg], spice, within);
    }
  }
  for (std::size_t c = 0; c < elements.boxes.size(); ++c) {
    for (std::size_t b = 1; b < elements.boxes[c].size(); ++b) {
      const BoxState& box = solution.boxes[c][b];
      const BoxNodes& nodes = elements.boxes[c][b];
      compare_node(box.neutral, box.isolated, nodes.neutral, spice, within);
      for (std::size_t h = 0; h < nodes.hot.size(); ++h) {
        if (nodes.hot[h] == kNoNode) continue;
        compare_node(box.hot[h], false, nodes.hot[h], spice, within);
      }
    }
  }
}

TEST_CASE("ngspice: the same volts at every conductor of random houses") {
  if (!has_ngspice()) {
    MESSAGE("skipped: ngspice is not on the path, so nothing was compared with it");
    return;
  }
  constexpr std::uint64_t kHouses = 40;
  const Tables tables = load_tables();
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions options;
    options.system = every_supply_system()[seed % every_supply_system().size()];
    const BuiltHouse house = built(random_house(seed, options), tables);
    const std::vector<HouseState> states = states_of(house, seed);
    std::vector<CircuitElements> circuits;
    for (const HouseState& state : states) {
      circuits.push_back(
          circuit_elements(house.house, house.wiring, tables, state.load_admittances, state.fault));
    }
    const SpiceAnswer answer = ask_ngspice(circuits);
    {
      INFO(answer.output);
      const int first_bus = circuits[0].panels[0].hot[0];
      REQUIRE(answer.volts[0][static_cast<std::size_t>(first_bus)].has_value());
    }
    double volts = 0;
    for (const Complex& leg : house.model.source) volts = std::max(volts, std::abs(leg));
    for (std::size_t s = 0; s < states.size(); ++s) {
      CAPTURE(states[s].what);
      const Solution solution = solve(house.model, states[s].load_admittances, states[s].fault);
      REQUIRE(solution.status == SolveStatus::Solved);
      compare(solution, circuits[s], answer.volts[s], kAgreement * volts);
    }
  }
}

// The current from the far end of a neutral to its near end, by Ohm's law on ngspice's volts; nothing
// where the conductor has no impedance.
std::optional<Complex> neutral_amps(const CircuitElements& elements, int conductor, int order,
                                    const std::vector<std::optional<Complex>>& spice) {
  if (conductor < 0) return std::nullopt;
  const ConductorElement& element = elements.conductors[static_cast<std::size_t>(conductor)];
  const Complex ohms(element.ohms.real(), order * element.ohms.imag());
  if (ohms == Complex{}) return std::nullopt;
  return (*spice[static_cast<std::size_t>(element.to)] -
          *spice[static_cast<std::size_t>(element.from)]) /
         ohms;
}

int compare_neutrals(const Solution& solution, const CircuitElements& elements, int order,
                     const std::vector<std::optional<Complex>>& spice) {
  constexpr double kAmps = 1e-6;
  int compared = 0;
  const auto compare_one = [&](Complex amps, int conductor) {
    const auto expected = neutral_amps(elements, conductor, order, spice);
    if (!expected) return;
    CHECK(close(amps, *expected, kAmps));
    ++compared;
  };
  for (std::size_t p = 0; p < elements.panels.size(); ++p) {
    compare_one(p == 0 ? solution.service_neutral_amps : solution.panels[p].neutral_amps,
                elements.panels[p].neutral_conductor);
  }
  compare_one(solution.earth_return_amps, elements.earth_return);
  for (std::size_t c = 0; c < elements.boxes.size(); ++c) {
    for (std::size_t b = 1; b < elements.boxes[c].size(); ++b) {
      compare_one(solution.boxes[c][b].neutral_amps, elements.boxes[c][b].neutral_conductor);
    }
  }
  return compared;
}

// A spectrum for about half of the loads.
std::vector<LoadSpectrum> random_spectra(Dice& dice, std::size_t loads) {
  std::vector<LoadSpectrum> spectra(loads);
  for (LoadSpectrum& spectrum : spectra) {
    if (dice.chance(0.5)) continue;
    for (const int order : {2, 3, 5, 13}) {
      spectrum.push_back({order, dice.between(0.01, 0.9), radians(dice.between(-180, 180))});
    }
  }
  return spectra;
}

// What each load draws at the order, by its definition; nothing for linear ones.
void draw(CircuitElements& circuit, const std::vector<LoadSpectrum>& spectra, int order,
          const Solution& fundamental) {
  for (std::size_t l = 0; l < spectra.size(); ++l) {
    if (spectra[l].empty()) continue;
    circuit.loads[l].siemens = {};
    for (const HarmonicShare& part : spectra[l]) {
      if (part.order != order) continue;
      const double angle = order * std::arg(fundamental.load_volts[l]) + part.angle;
      circuit.loads[l].drawn =
          std::polar(part.share * std::abs(fundamental.load_amps[l]), angle);
    }
  }
}

TEST_CASE("ngspice: the same volts at harmonic orders of random houses") {
  if (!has_ngspice()) {
    MESSAGE("skipped: ngspice is not on the path, so nothing was compared with it");
    return;
  }
  constexpr std::uint64_t kHouses = 6;
  const Tables tables = load_tables();
  int compared = 0;
  int neutrals = 0;
  for (std::uint64_t seed = 100; seed < 100 + kHouses; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions options;
    options.system = every_supply_system()[seed % every_supply_system().size()];
    options.off = 0;
    const BuiltHouse house = built(random_house(seed, options), tables);
    Dice dice(seed);
    const std::vector<LoadSpectrum> spectra = random_spectra(dice, house.model.loads.size());
    const std::vector<Complex> y = admittances(house.model, on_as_found(house.model));
    const NeutralFault bad{house.places[0], dice.between(0.1, 2)};
    const HarmonicSolution sound = solve_harmonics(house.model, y, spectra);
    const HarmonicSolution worse = solve_harmonics(house.model, y, spectra, bad);
    for (std::size_t i = 1; i < sound.orders.size(); ++i) {
      const int order = sound.orders[i];
      CAPTURE(order);
      std::vector<CircuitElements> circuits{
          circuit_elements(house.house, house.wiring, tables, y, std::nullopt),
          circuit_elements(house.house, house.wiring, tables, y, bad)};
      draw(circuits[0], spectra, order, sound.states[0]);
      draw(circuits[1], spectra, order, worse.states[0]);
      const SpiceAnswer answer = ask_ngspice(circuits, order);
      INFO(answer.output);
      compare(sound.states[i], circuits[0], answer.volts[0], kAgreement);
      compare(worse.states[i], circuits[1], answer.volts[1], kAgreement);
      neutrals += compare_neutrals(sound.states[i], circuits[0], order, answer.volts[0]);
      neutrals += compare_neutrals(worse.states[i], circuits[1], order, answer.volts[1]);
      ++compared;
    }
  }
  CHECK(compared >= 12);
  CHECK(neutrals >= 100);
}

}  // namespace
}  // namespace evenleg
