// A circuit of a published example, written as a house description and solved by both engines.
//
// The texts are short: a first part that many examples share (the panel and one circuit for each
// leg), and the example's own part with its supply, its conductors as measured resistances, and its
// loads. Volts are RMS magnitudes unless a phasor is asked for.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"
#include "evenleg/network/places.h"
#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"
#include "evenleg/units/phasor.h"

namespace evenleg {

// Circuits "L1" and "L2" of a panel, one on each leg, without resistance.
inline constexpr std::string_view kTwoLegs = R"(
format = 1
house = {name = "a published example"}
panel = [{name = "Main", spaces = 2}]
circuit = [{name = "L1", legs = ["L1"]}, {name = "L2", legs = ["L2"]}]
)";

// Circuits "L1", "L2" and "L3", one on each phase of a wye.
inline constexpr std::string_view kThreeLegs = R"(
format = 1
house = {name = "a published example"}
panel = [{name = "Main", spaces = 3}]
circuit = [{name = "L1", legs = ["L1"]}, {name = "L2", legs = ["L2"]},
           {name = "L3", legs = ["L3"]}]
)";

// Circuits "L1" and "L2", and "Across" between both legs.
inline constexpr std::string_view kTwoLegsAndAcross = R"(
format = 1
house = {name = "a published example"}
panel = [{name = "Main", spaces = 4}]
circuit = [{name = "L1", legs = ["L1"]}, {name = "L2", legs = ["L2"]},
           {name = "Across", legs = ["L1", "L2"], poles = 2}]
)";

// The keys that make a load an impedance of `ohms`: what it draws at 1 V. Requires: some
// resistance.
[[nodiscard]] std::string impedance_keys(Complex ohms);

class SolvedHouse {
 public:
  [[nodiscard]] VoltagePhasor load_phasor(std::string_view load) const;
  [[nodiscard]] Volts load_volts(std::string_view load) const;
  [[nodiscard]] CurrentPhasor load_current(std::string_view load) const;
  [[nodiscard]] Amps load_amps(std::string_view load) const;
  // Out of the source's leg, and back in the service neutral.
  [[nodiscard]] CurrentPhasor leg_current(std::string_view leg) const;
  [[nodiscard]] Amps leg_amps(std::string_view leg) const;
  [[nodiscard]] CurrentPhasor neutral_current() const;
  [[nodiscard]] Amps neutral_amps() const;
  // Back in the shared run of a multiwire, whichever legs its circuits are on.
  [[nodiscard]] Amps multiwire_neutral_amps(std::string_view multiwire) const;
  // The first panel's neutral bus against the source's neutral, and its legs against each other.
  [[nodiscard]] VoltagePhasor neutral_shift() const;
  [[nodiscard]] VoltagePhasor bus_phasor(std::string_view leg) const;
  [[nodiscard]] Volts between_legs(std::string_view one, std::string_view other) const;

 private:
  friend class DescribedHouse;
  SolvedHouse(const House& house, const Wiring& wiring, Solution solution)
      : house_(house), wiring_(wiring), solution_(std::move(solution)) {}

  [[nodiscard]] std::size_t load_index(std::string_view name) const;
  [[nodiscard]] std::size_t leg_index(std::string_view name) const;

  House house_;
  Wiring wiring_;
  Solution solution_;
};

class DescribedHouse {
 public:
  // Throws: Error when the two parts together are no valid description.
  explicit DescribedHouse(std::string_view shared, std::string_view own);

  // Every solution is checked to be the same by both engines.
  [[nodiscard]] SolvedHouse intact() const;
  [[nodiscard]] SolvedHouse neutral_open(std::string_view place = "service") const;
  // Without this load: what opening the only conductor to it amounts to.
  [[nodiscard]] SolvedHouse without(std::string_view load) const;

 private:
  [[nodiscard]] SolvedHouse solved(const std::vector<bool>& on,
                                   const std::optional<NeutralFault>& fault) const;

  Tables tables_;
  House house_;
  Wiring wiring_;
  Model model_;
};

}  // namespace evenleg
