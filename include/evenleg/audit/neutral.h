// One neutral in depth: what hangs on it as it goes from sound to open.
//
// R ohms are added in series with the sound conductor; the curve runs from R = 0 to the neutral
// removed. As found: the loads that are on; extremes are over all credible states in which the load
// is on, as in an audit. All loads are constant impedances.
//
// High limit: the smallest R at which some load in some credible state has more volts than it
// withstands. Low limit: the smallest R at which some load has fewer than its law runs on (drops
// out, stalls). In one state the volts across a load are V(R) = (V0 + k R Vopen)/(1 + k R), so
// |V(R)| = limit is a quadratic; its first root, the worst states at that R, the root of those, and
// so on down until no state is past its limit. `proven`: certified at that R, no credible state is
// more than 0.01 V past any limit. Smaller R are searched at the points of the curve, without proof
// between them: |V(R)| rises or falls steadily but for angles between the impedances.
//
// Heat: |I|^2 R in the joint itself, I the amperes through it (for the service, not those that the
// earth carries). V, A, ohm, W; RMS.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/audit/audit.h"

namespace evenleg {

// A pair of terminals beyond the joint.
struct OutletVolts {
  std::string where;  // the outlet, or the circuit or multiwire that a load sits on
  std::string legs;   // "L1-N"
  Volts as_found;     // 0 where nothing is fed
};

struct NeutralPoint {
  Ohms added;                        // kOpen: removed
  std::vector<LegRow> legs;          // to the neutral just beyond the joint, as found
  Volts neutral_shift;               // as found, of that neutral to the source's
  Amps amps;                         // as found, through the joint
  Watts heat;                        // as found, in the joint
  std::optional<Extreme<Watts>> highest_heat;  // absent at R = 0, open, or without credible states
  // Over the credible states and all loads beyond, and the loads that get there; absent: none can
  // be on.
  std::optional<Extreme<Volts>> highest;
  std::optional<Extreme<Volts>> lowest;
  int highest_load = -1;
  int lowest_load = -1;
  std::vector<OutletVolts> outlets;  // as found; the same rows at every point
  std::vector<LoadExtremes> loads;   // the same rows at every point, as OpenNeutral::loads
  std::vector<OutletExtremes> empty; // as OpenNeutral::outlets
};

struct NeutralDepth {
  Place place;
  Ohms sound;                        // resistance of the conductor at this place alone
  std::optional<NeutralLimit> high;  // absent: no load passes it at any R looked at
  std::optional<NeutralLimit> low;
  // Where a load is past its limit with the neutral sound: the first of the others.
  std::optional<NeutralLimit> next_high;
  bool none_high_proven = false;  // no limit, and certified at each point of the curve
  bool none_low_proven = false;
  std::optional<std::string> protected_by;  // as of OpenNeutral, with it open
  std::vector<NeutralPoint> curve;   // ascending R; sound first, open last, the limits among them
  int behaviour_left_out = 0;  // as of OpenNeutral
  std::vector<StateBehaviour> behaviour;  // open, as in an audit
  bool certified = true;             // false: values without certificates were asked for
};

struct NeutralOptions {
  std::optional<std::string> scenario;
  bool certify = true;
  std::function<void(std::string_view doing, int done, int all)> progress{};
};

// A name of fault_places(); where names coincide, with the kind before it: "feeder Barn",
// "multiwire Barn", "outlet Barn". `asked_as`: what the name was given as, for the error. Requires:
// wiring of that house. Throws: Error(Request) for a name that is none or several.
[[nodiscard]] Place place_named(const House& house, const Wiring& wiring, const std::string& name,
                                const std::string& asked_as);

// `place`: as place_named().
// Throws: Error(Request) for a place or scenario that the house does not have.
[[nodiscard]] NeutralDepth neutral_in_depth(const House& house, const Tables& tables,
                                            const std::string& place,
                                            const NeutralOptions& options = {});

}  // namespace evenleg
