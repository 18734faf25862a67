#include "tests/published/described_house.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "evenleg/base/format.h"
#include "evenleg/describe/describe.h"
#include "tests/check.h"

namespace evenleg {
namespace {

template <class Records>
std::size_t index_by_name(const Records& records, std::string_view name) {
  for (std::size_t i = 0; i < records.size(); ++i) {
    if (records[i].name == name) return i;
  }
  throw std::invalid_argument("a test asks for \"" + std::string(name) + "\", which is not there");
}

void check_agreement(const Solution& one, const Solution& other, double scale_volts) {
  constexpr double kAgreement = 1e-9;  // of the source's volts, as solve.h promises
  REQUIRE(one.status == SolveStatus::Solved);
  REQUIRE(other.status == SolveStatus::Solved);
  for (std::size_t l = 0; l < one.load_volts.size(); ++l) {
    CAPTURE(l);
    CHECK(close(one.load_volts[l], other.load_volts[l], kAgreement * scale_volts));
  }
  CHECK(close(one.panels[0].neutral, other.panels[0].neutral, kAgreement * scale_volts));
}

}  // namespace

std::string impedance_keys(Complex ohms) {
  const double size = std::abs(ohms);
  return fmt::format("volts = 1\nva = {}\npower_factor = {}\nleading = {}", exact(1 / size),
                     exact(ohms.real() / size), ohms.imag() < 0);
}

std::size_t SolvedHouse::load_index(std::string_view name) const {
  return index_by_name(house_.loads, name);
}
std::size_t SolvedHouse::leg_index(std::string_view name) const {
  return index_by_name(wiring_.system.legs, name);
}

VoltagePhasor SolvedHouse::load_phasor(std::string_view load) const {
  return VoltagePhasor(solution_.load_volts[load_index(load)]);
}
Volts SolvedHouse::load_volts(std::string_view load) const { return magnitude(load_phasor(load)); }
CurrentPhasor SolvedHouse::load_current(std::string_view load) const {
  return CurrentPhasor(solution_.load_amps[load_index(load)]);
}
Amps SolvedHouse::load_amps(std::string_view load) const { return magnitude(load_current(load)); }

CurrentPhasor SolvedHouse::leg_current(std::string_view leg) const {
  return CurrentPhasor(solution_.panels[0].hot_amps[leg_index(leg)]);
}
Amps SolvedHouse::leg_amps(std::string_view leg) const { return magnitude(leg_current(leg)); }
CurrentPhasor SolvedHouse::neutral_current() const {
  return CurrentPhasor(solution_.service_neutral_amps);
}
Amps SolvedHouse::neutral_amps() const { return magnitude(neutral_current()); }

Amps SolvedHouse::multiwire_neutral_amps(std::string_view multiwire) const {
  const auto m = static_cast<int>(index_by_name(house_.multiwires, multiwire));
  for (std::size_t c = 0; c < wiring_.cables.size(); ++c) {
    if (wiring_.cables[c].multiwire != m) continue;
    return magnitude(CurrentPhasor(solution_.boxes[c][1].neutral_amps));  // the shared run's end
  }
  throw std::invalid_argument("this multiwire has no cable");
}

VoltagePhasor SolvedHouse::neutral_shift() const {
  return VoltagePhasor(solution_.panels[0].neutral);
}
VoltagePhasor SolvedHouse::bus_phasor(std::string_view leg) const {
  return VoltagePhasor(solution_.panels[0].hot[leg_index(leg)]);
}
Volts SolvedHouse::between_legs(std::string_view one, std::string_view other) const {
  return magnitude(bus_phasor(one) - bus_phasor(other));
}

DescribedHouse::DescribedHouse(std::string_view shared, std::string_view own)
    : tables_(load_tables()),
      house_(
          read_description(std::string(shared) + std::string(own), "example", vocabulary(tables_))),
      wiring_(wire(house_, *find_system(vocabulary(tables_), house_.supply.system))),
      model_(build_model(house_, wiring_, tables_)) {}

SolvedHouse DescribedHouse::solved(const std::vector<bool>& on,
                                   const std::optional<NeutralFault>& fault) const {
  const std::vector<Complex> y = admittances(model_, on);
  Solution solution = solve(model_, y, fault);
  check_agreement(solution, solve_sparse(model_, y, fault), std::abs(model_.source[0]));
  return {house_, wiring_, std::move(solution)};
}

SolvedHouse DescribedHouse::intact() const { return solved(on_as_found(model_), std::nullopt); }

SolvedHouse DescribedHouse::neutral_open(std::string_view place) const {
  const std::vector<Place> places = fault_places(house_, wiring_);
  return solved(on_as_found(model_), NeutralFault{places[index_by_name(places, place)], kOpen});
}

SolvedHouse DescribedHouse::without(std::string_view load) const {
  std::vector<bool> on = on_as_found(model_);
  on[index_by_name(house_.loads, load)] = false;
  return solved(on, std::nullopt);
}

}  // namespace evenleg
