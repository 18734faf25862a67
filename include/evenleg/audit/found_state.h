// The house in the state as found, as an audit hands it to the parts that look beyond constant
// impedance at one frequency.
#pragma once

#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct FoundState {
  const House& house;
  const Wiring& wiring;
  const Model& model;
  const Tables& tables;
  const std::vector<bool>& on;  // by load
  double degraded_ohms = 0;     // added in the service neutral to stand for a bad one
};

}  // namespace evenleg
