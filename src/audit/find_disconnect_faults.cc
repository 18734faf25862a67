// Breakers of multiwire branch circuits: do they open together, can they, what do they sense, and
// on which leg does a space put them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

const Circuit& circuit_of(const Seen& seen, const Hot& hot) {
  return seen.house.circuits[at(hot.circuit)];
}

// Whether handle ties or a multi-pole breaker could join the breakers: every second space of one
// column. Nothing where a space is not known, or where they are spaces of different panels.
std::optional<bool> side_by_side(const Seen& seen, const Cable& cable) {
  std::set<int> spaces;
  for (int c : cable.circuits) {
    const Circuit& circuit = seen.house.circuits[at(c)];
    if (!circuit.space) return std::nullopt;
    if (seen.wiring.circuit_panel[at(c)] != seen.wiring.circuit_panel[at(cable.circuits.front())]) {
      return std::nullopt;
    }
    for (int pole = 0; pole < circuit.poles; ++pole) spaces.insert(*circuit.space + 2 * pole);
  }
  for (auto space = spaces.begin(); std::next(space) != spaces.end(); ++space) {
    if (*std::next(space) != *space + 2) return false;
  }
  return true;
}

// "the other breaker", "the other breakers".
std::string others(const Cable& cable, std::string_view what) {
  constexpr std::size_t kTwo = 2;
  return fmt::format("the other {}{}", what, cable.circuits.size() > kTwo ? "s" : "");
}

std::string spaces_text(const Seen& seen, const Cable& cable) {
  std::vector<std::string> spaces;
  for (int c : cable.circuits) {
    spaces.push_back(std::to_string(seen.house.circuits[at(c)].space.value_or(0)));
  }
  return listed(spaces);
}

// The shared neutral's amperes as found with one hot moved to another leg (its own: as it is).
double neutral_amps_with(const Seen& seen, int c, int moved, int leg) {
  const Cable& cable = seen.wiring.cables[at(c)];
  Complex sum{};
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    const Complex amps = neutral_amps_of(seen, c, static_cast<int>(hot));
    const bool moves = static_cast<int>(hot) == moved;
    const Complex turn =
        moves ? seen.model.source[at(leg)] / seen.model.source[at(cable.hots[hot].leg)]
              : Complex{1};
    sum += amps * turn;
  }
  constexpr double kCancelled = 1e-6;  // A; what opposite currents leave by rounding
  return std::abs(sum) < kCancelled ? 0 : std::abs(sum);
}

double neutral_amps_as_it_is(const Seen& seen, int c) { return neutral_amps_with(seen, c, -1, 0); }

bool on_opposing_legs(const Cable& cable) {
  std::set<int> legs;
  for (const Hot& hot : cable.hots) legs.insert(hot.leg);
  return legs.size() == cable.hots.size();
}

// What a breaker moved alone would do; "" where that cannot happen or is already so.
std::string moved_text(const Seen& seen, int c) {
  const Cable& cable = seen.wiring.cables[at(c)];
  const bool locked = std::all_of(cable.hots.begin(), cable.hots.end(),
                                  [&](const Hot& hot) { return circuit_of(seen, hot).locked; });
  if (locked || !on_opposing_legs(cable)) return "";
  double most = 0;
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    for (const Hot& other : cable.hots) {
      most = std::max(most, neutral_amps_with(seen, c, static_cast<int>(hot), other.leg));
    }
  }
  return fmt::format(
      " Nothing keeps the circuits on separate legs when breakers are moved: with two of "
      "them on one leg, the neutral would carry {} A as found in place of {} A.",
      figure(most), figure(neutral_amps_as_it_is(seen, c)));
}

// With the other circuits off, the shared neutral still carries this.
std::string still_carried(const Seen& seen, int c) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::size_t most = 0;
  for (std::size_t hot = 1; hot < cable.hots.size(); ++hot) {
    if (std::abs(neutral_amps_of(seen, c, static_cast<int>(hot))) >
        std::abs(neutral_amps_of(seen, c, static_cast<int>(most)))) {
      most = hot;
    }
  }
  const double amps = std::abs(neutral_amps_of(seen, c, static_cast<int>(most)));
  if (amps == 0) {
    return fmt::format("With one breaker off, the shared neutral can still carry the current of {}",
                       others(cable, "circuit"));
  }
  return fmt::format("With {} off, {} still puts {} A as found into the shared neutral",
                     others(cable, "breaker"), in_quotes(circuit_of(seen, cable.hots[most]).name),
                     figure(amps));
}

void disconnect(const Seen& seen, int c, const Multiwire& multiwire,
                std::vector<WiringFinding>& findings) {
  if (multiwire.common_disconnect.value_or(false)) return;
  const Cable& cable = seen.wiring.cables[at(c)];
  const bool known = multiwire.common_disconnect.has_value();
  const bool apart = !side_by_side(seen, cable).value_or(true);
  std::string observation = fmt::format(
      "{} share a neutral and {}.", quoted_circuits(seen, cable),
      known ? "do not disconnect together" : "whether they disconnect together was not recorded");
  if (apart) {
    observation += fmt::format(
        " Their breakers (spaces {}) do not sit one above the other, so that no handle "
        "tie or multi-pole breaker joins them where they are.",
        spaces_text(seen, cable));
  }
  add_finding(
      seen, findings, "no common disconnect",
      known ? FindingSeverity::Caution : FindingSeverity::Note, multiwire.name,
      {std::move(observation),
       fmt::format("{}, and where it is parted the side away from the panel rises to {} V: a shock "
                   "hazard for whoever works on it.{}",
                   still_carried(seen, c), figure(seen.wiring.system.nominal_volts),
                   moved_text(seen, c)),
       fmt::format("Have a licensed electrician {}. Older work may have been allowed without; the "
                   "installation date and the local code decide.",
                   known ? "evaluate this and provide a common disconnect"
                         : "find out, and provide a common disconnect where there is none")});
  findings.back().undetermined = !known;
}

void breakers_apart(const Seen& seen, const Cable& cable, const Multiwire& multiwire,
                    std::vector<WiringFinding>& findings) {
  if (!multiwire.common_disconnect.value_or(false)) return;
  if (side_by_side(seen, cable).value_or(true)) return;
  add_finding(
      seen, findings, "multiwire breakers apart", FindingSeverity::Caution, multiwire.name,
      {fmt::format("{} are recorded as disconnecting together, but their breakers (spaces {}) do "
                   "not sit one above the other in one column.",
                   quoted_circuits(seen, cable), spaces_text(seen, cable)),
       fmt::format("No handle tie or multi-pole breaker joins such breakers. If they open one at "
                   "a time, the shared neutral stays in use with one of them off, and rises to "
                   "{} V beyond the point where it is parted.",
                   figure(seen.wiring.system.nominal_volts)),
       "Check the spaces and the disconnect as entered; where they are right, have a licensed "
       "electrician bring the breakers together."});
}

bool senses_ground_faults(const Circuit& circuit) { return circuit.protection != "standard"; }

// Breakers that may be one multi-pole device raise nothing: the same protection, opening together.
void protection_one_side(const Seen& seen, int c, const Multiwire& multiwire,
                         std::vector<WiringFinding>& findings) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::vector<std::string> sensing;
  bool alike = true;
  double past_one = 0;  // the most that the other circuits put past one sensing breaker
  for (std::size_t hot = 0; hot < cable.hots.size(); ++hot) {
    const Circuit& circuit = circuit_of(seen, cable.hots[hot]);
    alike = alike && circuit.protection == circuit_of(seen, cable.hots.front()).protection;
    if (!senses_ground_faults(circuit)) continue;
    sensing.push_back(in_quotes(circuit.name) + " (" + circuit.protection + ")");
    Complex past{};
    for (std::size_t other = 0; other < cable.hots.size(); ++other) {
      if (other != hot) past += neutral_amps_of(seen, c, static_cast<int>(other));
    }
    past_one = std::max(past_one, std::abs(past));
  }
  if (sensing.empty() || (alike && multiwire.common_disconnect.value_or(false))) return;
  const bool single = sensing.size() == 1;
  constexpr std::size_t kTwo = 2;
  add_finding(
      seen, findings, "protection on one side of a shared neutral", FindingSeverity::Caution,
      multiwire.name,
      {fmt::format("{} of {} {} recorded with protection of {} own, on a neutral shared with {}.",
                   listed(sensing), in_quotes(multiwire.name), single ? "is" : "are",
                   single ? "its" : "their", single ? others(cable, "circuit") : "each other"),
       fmt::format(
           "A single-pole GFCI, or an AFCI that senses ground faults, takes the current of {} on "
           "the shared neutral ({} A as found) for a fault of its own, where a few milliamperes "
           "are enough: it trips, or what it protects has been wired otherwise than recorded.",
           others(cable, "circuit"), figure(past_one)),
       fmt::format("Have a licensed electrician check how the neutral lands and which devices are "
                   "listed for it: a {}-pole device, or one without ground-fault sensing under a "
                   "handle tie.",
                   cable.hots.size() > kTwo ? "multi" : "two")});
}

// Where a circuit's entered legs are not those of its space: one sentence for what that does.
void leg_and_space(const Seen& seen, std::size_t c, std::vector<WiringFinding>& findings) {
  const Circuit& circuit = seen.house.circuits[c];
  if (!circuit.space || circuit.legs.empty()) return;
  Circuit by_space = circuit;
  by_space.legs.clear();
  const std::vector<int> expected = legs_of_circuit(
      by_space, seen.wiring.panels[at(seen.wiring.circuit_panel[c])], seen.wiring.system);
  const std::vector<int>& entered = seen.wiring.circuit_legs[c];
  const auto sorted = [](std::vector<int> legs) {
    std::sort(legs.begin(), legs.end());
    return legs;
  };
  if (expected.empty() || sorted(expected) == sorted(entered)) return;
  const std::string_view plural = entered.size() > 1 ? "s" : "";
  const auto names = [&](const std::vector<int>& legs) {
    std::vector<std::string> texts;
    for (int leg : legs) texts.push_back(seen.wiring.system.legs[at(leg)].name);
    return listed(texts);
  };
  const int cable = seen.wiring.circuit_cable[c];
  const bool shares = seen.wiring.cables[at(cable)].multiwire >= 0;
  std::string implication = "Every figure of this audit takes the leg as entered.";
  if (shares && circuit.poles == 1) {
    const std::vector<Hot>& hots = seen.wiring.cables[at(cable)].hots;
    const auto own = std::find_if(hots.begin(), hots.end(), [&](const Hot& hot) {
      return hot.circuit == static_cast<int>(c);
    });
    implication += fmt::format(
        " On the leg of its space, the neutral that it shares would carry {} A as found in place "
        "of {} A.",
        figure(
            neutral_amps_with(seen, cable, static_cast<int>(own - hots.begin()), expected.front())),
        figure(neutral_amps_as_it_is(seen, cable)));
  }
  add_finding(
      seen, findings, "leg differs from the space",
      shares ? FindingSeverity::Caution : FindingSeverity::Note, circuit.name,
      {fmt::format(
           "{} is entered on leg{} {}, while its space {} is on leg{} {} where legs alternate "
           "by row; both halves of a tandem breaker sit on the leg of their space.",
           in_quotes(circuit.name), plural, names(entered), *circuit.space, plural,
           names(expected)),
       std::move(implication),
       "Have a qualified person confirm the leg, by a reading between this hot and one of a "
       "known leg: about 0 V on the same leg, the full line-to-line volts on another."});
}

}  // namespace

void find_disconnect_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t c = 0; c < seen.wiring.cables.size(); ++c) {
    const Cable& cable = seen.wiring.cables[c];
    // One multi-pole circuit opens and trips as one.
    if (cable.multiwire < 0 || cable.circuits.size() == 1) continue;
    const Multiwire& multiwire = seen.house.multiwires[at(cable.multiwire)];
    const int index = static_cast<int>(c);
    disconnect(seen, index, multiwire, findings);
    breakers_apart(seen, cable, multiwire, findings);
    protection_one_side(seen, index, multiwire, findings);
  }
  find_loads_across(seen, findings);
  for (std::size_t c = 0; c < seen.house.circuits.size(); ++c) leg_and_space(seen, c, findings);
}

}  // namespace evenleg
