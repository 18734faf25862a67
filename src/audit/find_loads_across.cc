// Loads between the hots of a multiwire, and what they feed with one of its breakers open.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/units/phasor.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

// Volts to neutral that loads between hots put on one of them, the others being live: with the
// loads to neutral that are on as found, and with none. Nominal volts, impedances as they are; `on`
// says which loads between hots are taken to run.
struct FedThrough {
  double as_found = 0;
  double alone = 0;
};

FedThrough fed_through(const Seen& seen, const CableModel& cable, int dead,
                       const std::vector<bool>& on) {
  Complex driven{};  // amperes into the dead hot, were it at 0 V
  Complex across{};
  Complex to_neutral{};
  for (int l : cable.loads) {
    const LoadModel& load = seen.model.loads[at(l)];
    if (load.to == kNeutral) {
      if (load.from == dead && seen.on[at(l)]) to_neutral += load.admittance;
    } else if (on[at(l)] && (load.from == dead || load.to == dead)) {
      const int live = load.from == dead ? load.to : load.from;
      const Leg& leg = seen.wiring.system.legs[at(cable.hots[at(live)].leg)];
      driven += load.admittance *
                std::polar(seen.wiring.system.nominal_volts, radians(leg.angle_degrees));
      across += load.admittance;
    }
  }
  if (across == Complex{}) return {};
  return {std::abs(driven / (across + to_neutral)), std::abs(driven / across)};
}

// The loads between hots of a cable that are on as found; all of them where none is.
std::vector<bool> running_across(const Seen& seen, const std::vector<int>& across) {
  const bool some =
      std::any_of(across.begin(), across.end(), [&](int l) { return seen.on[at(l)]; });
  std::vector<bool> on(seen.on.size(), false);
  for (int l : across) on[at(l)] = !some || seen.on[at(l)];
  return on;
}

// Loads between hots of a multiwire with other loads on it: with one hot open, their current comes
// back through what is on it.
void line_to_line(const Seen& seen, int c, const Multiwire& multiwire,
                  std::vector<WiringFinding>& findings) {
  const CableModel& cable = seen.model.cables[at(c)];
  std::vector<int> across;
  std::vector<std::string> names;
  for (int l : cable.loads) {
    if (seen.model.loads[at(l)].to == kNeutral) continue;
    across.push_back(l);
    names.push_back(in_quotes(seen.house.loads[at(l)].name));
  }
  if (across.empty() || cable.loads.size() == 1) return;
  const std::vector<bool> on = running_across(seen, across);
  FedThrough most;
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    const FedThrough here = fed_through(seen, cable, static_cast<int>(hot), on);
    most = {std::max(most.as_found, here.as_found), std::max(most.alone, here.alone)};
  }
  const bool together = multiwire.common_disconnect.value_or(false);
  const bool one = names.size() == 1;
  add_finding(
      seen, findings, "line-to-line load on a multiwire",
      together ? FindingSeverity::Note : FindingSeverity::Caution, multiwire.name,
      {fmt::format("{} {} between hots of {}, which feeds other loads too, and {}.", listed(names),
                   one ? "runs" : "run", in_quotes(multiwire.name),
                   together
                       ? "whether its breakers also trip together (a handle tie does not do that) "
                         "was not recorded"
                       : "its breakers are not recorded as opening together"),
       fmt::format(
           "With one of the breakers open, the hot that is taken for dead would be fed through {}: "
           "to {} V with the loads to neutral on it as found, to {} V with none of them on.",
           one ? "this load" : "these loads", figure(most.as_found), figure(most.alone)),
       "Have a licensed electrician check that one device opens and trips all hot conductors of "
       "this circuit at once."});
  findings.back().undetermined = true;
}

}  // namespace

void find_loads_across(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const Cable& cable = seen.wiring.cables[c];
    // One multi-pole circuit opens and trips as one.
    if (cable.multiwire < 0 || cable.circuits.size() == 1) continue;
    line_to_line(seen, static_cast<int>(c), seen.house.multiwires[at(cable.multiwire)], findings);
  }
}

}  // namespace evenleg
