// The conductors of the service with their amperes as widths, and the volts of each leg before and
// after the neutral opens.
#pragma once

#include <string>
#include <vector>

#include "evenleg/drawing/drawing.h"

namespace evenleg {

// At the first panel, as found, the neutral sound.
struct ServiceAmps {
  struct Conductor {
    std::string name;  // "L1"
    double amps = 0;
    double volts = 0;  // to neutral
  };
  std::vector<Conductor> legs;
  double neutral_amps = 0;
  double earth_amps = 0;    // what comes back beside the neutral; 0 where no path is described
  bool split_phase = true;  // the legs oppose each other
};
[[nodiscard]] Drawing draw_service_wires(const ServiceAmps& service);

// Each leg's volts at the first panel, the same loads on.
struct LegVolts {
  std::string name;
  double sound = 0;
  double open = 0;
};
[[nodiscard]] Drawing draw_legs_before_and_after(const std::vector<LegVolts>& legs,
                                                 double nominal_volts);

}  // namespace evenleg
