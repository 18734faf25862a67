// Readings of a house with a fault, by the engine of the whole house, to be judged beside the house
// as it is described, which has none.
#pragma once

#include <string>
#include <vector>

#include "evenleg/diagnose/diagnose.h"
#include "evenleg/house/house.h"
#include "evenleg/network/model.h"
#include "tests/network/dice.h"

namespace evenleg {

class SimulatedVisit {
 public:
  explicit SimulatedVisit(House described);

  // The house as it really is; to be altered before readings are taken.
  [[nodiscard]] Model& truth() { return truth_; }
  [[nodiscard]] std::size_t cable_of(const std::string& circuit_or_multiwire) const;
  // Adds ohms to the hot of one leg, or the neutral, between the source and the first panel.
  void add_to_service_hot(int leg, double ohms);
  void add_to_service_neutral(double ohms);

  // Volts between all that comes to the place, with these loads on; to a tenth of a volt, with
  // noise.
  Reading& read(const std::string& at, const std::vector<std::string>& on);
  // The clamped amperes of a panel's legs and neutral, with them.
  Reading& read_clamped(const std::string& panel, const std::vector<std::string>& on);

  House house;  // described, with the readings taken so far
  double noise_volts = 0.02;
  // Each load draws so many times its nameplate; for starts.
  Complex load_factor = 1;

  [[nodiscard]] Diagnosis judged() const;

 private:
  Wiring wiring_;
  Model truth_;
  Dice dice_{1};
};

}  // namespace evenleg
