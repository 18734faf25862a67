// The house as found with the harmonics of its loads: legs, and every neutral that legs share.
//
// As found, all neutrals sound; order 1 is the supply's frequency, what the rest of the audit is
// about. rms is the root of the sum of squares over all orders: what heats a conductor, and what
// its ampacity is to be compared with. THD is the orders above the first over the first, a ratio.
// Method and what is left out: network/harmonics.h.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evenleg/audit/found_state.h"
#include "evenleg/base/citation.h"
#include "evenleg/network/harmonics.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct OrderAmps {
  int order = 0;
  Amps amps;
};

struct HarmonicCurrent {
  Amps rms;
  std::optional<double> distortion;  // THD; absent where hardly any fundamental is left
  std::vector<OrderAmps> orders;     // ascending, the fundamental first
};

struct HarmonicLeg {
  HarmonicCurrent current;
  std::optional<double> volts_distortion;           // THD of leg to neutral at the first panel
  std::optional<double> volts_distortion_degraded;  // the same with ohms added in that neutral
};

struct Harmonics {
  std::vector<HarmonicLeg> legs;          // one for each of Audit::legs
  std::vector<HarmonicCurrent> neutrals;  // one for each of Audit::neutrals, the conductor alone
  Ohms degraded_neutral;                  // what is added in the service neutral
  std::vector<int> loads;                 // that are on and have a spectrum
  std::vector<Citation> sources;          // of the spectra that come from their kinds
};

// Nothing where no load that is on has a spectrum, or the equations have no single answer.
// `neutrals`: the places of Audit::neutrals.
[[nodiscard]] std::optional<Harmonics> find_harmonics(const FoundState& found,
                                                      std::span<const Place> neutrals);

}  // namespace evenleg
