// Loads on a voltage that is not theirs, and voltage lost on the way as found.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/audit/findings.h"
#include "src/audit/ranking.h"

namespace evenleg {
namespace {

// A nameplate this far from its connection's nominal volts is another voltage and not a name for
// the same one (110 to 120, 220 to 240, 230 to 240 V all lie within it). Judgement, from the 10 %
// that motors are built for, NEMA MG 1-12.44.1.
constexpr double kOtherVoltage = 0.10;

// Whether a load takes its connection's nominal volts, whatever its nameplate says: a supply of
// wide input, or stated limits that reach so far. A limit above says nothing of volts that are too
// few.
bool takes_nominal(const Seen& seen, std::size_t l) {
  const Load& load = seen.house.loads[l];
  const LoadKind* kind = find_kind(seen.tables, load.kind);
  const bool wide = kind != nullptr && kind->withstands_volts.has_value();
  const double nominal = seen.model.loads[l].nominal_volts;
  if (nominal > withstood_volts(load, seen.model.loads[l], seen.tables).si()) return false;
  return wide || (load.max_volts && nominal > *load.volts);
}

bool is_on_another_voltage(const Seen& seen, std::size_t l) {
  const Load& load = seen.house.loads[l];
  if (!load.volts || takes_nominal(seen, l)) return false;
  return std::abs(seen.model.loads[l].nominal_volts / *load.volts - 1) > kOtherVoltage;
}

bool is_motor(const Seen& seen, const Load& load) {
  const LoadKind* kind = find_kind(seen.tables, load.kind);
  return kind != nullptr &&
         (kind->behaviour == Behaviour::Motor || kind->behaviour == Behaviour::Compressor);
}

void check_nameplate(const Seen& seen, std::size_t l, std::vector<WiringFinding>& findings) {
  const Load& load = seen.house.loads[l];
  if (!is_on_another_voltage(seen, l)) return;
  const double nominal = seen.model.loads[l].nominal_volts;
  const double ratio = nominal / *load.volts;
  const bool high = ratio > 1;
  add_finding(
      seen, findings, "load on another voltage",
      high ? FindingSeverity::Danger : FindingSeverity::Caution, load.name,
      {fmt::format("{} is rated {} V and is connected to {} V nominal.", in_quotes(load.name),
                   figure(*load.volts), figure(nominal)),
       fmt::format(
           "It takes {} % of its nameplate power if it is a plain resistance{}.",
           figure(ratio * ratio * kPercent),
           high ? ", and can overheat" : (is_motor(seen, load) ? "; a motor may not start" : "")),
       high ? "Have a licensed electrician check the connection before it is used; check the "
              "nameplate as entered."
            : "Check the nameplate and the connection as entered; have a licensed electrician "
              "look where they are right."});
}

struct Drop {
  double branch_percent = 0;  // from its panel
  double total_percent = 0;   // from the first panel
};

Drop drop_of(const Seen& seen, std::size_t l) {
  const LoadModel& load = seen.model.loads[l];
  const CableModel& cable = seen.model.cables[at(load.cable)];
  const Hot& from = cable.hots[at(load.from)];
  const auto volts_at = [&](int panel, int neutral_panel) {
    const auto bus = [&](int leg) {
      const std::vector<int>& legs = seen.model.panels[at(panel)].legs;
      for (std::size_t i = 0; i < legs.size(); ++i) {
        if (legs[i] == leg) return seen.as_found.panels[at(panel)].hot[i];
      }
      return Complex{};
    };
    const Complex to = load.to == kNeutral ? seen.as_found.panels[at(neutral_panel)].neutral
                                           : bus(cable.hots[at(load.to)].leg);
    return std::abs(bus(from.leg) - to);
  };
  const double at_load = std::abs(seen.as_found.load_volts[l]);
  return {kPercent * (volts_at(from.panel, cable.neutral_panel) - at_load) / load.nominal_volts,
          kPercent * (volts_at(0, 0) - at_load) / load.nominal_volts};
}

bool is_too_much(const Drop& drop, const VoltageDropLimits& limits) {
  return drop.branch_percent > limits.branch_percent || drop.total_percent > limits.total_percent;
}

std::string found_text(const Seen& seen, int load, const Drop& drop) {
  return fmt::format(
      "{} has {} V as found: {} % lost from its panel and {} % from the first panel.",
      in_quotes(seen.house.loads[at(load)].name),
      figure(std::abs(seen.as_found.load_volts[at(load)])), fixed(drop.branch_percent, 1),
      fixed(drop.total_percent, 1));
}

// Loads that lose too much for one and the same reason.
struct Losing {
  int worst = -1;
  Drop most;
  int count = 0;

  void add(int load, const Drop& drop) {
    ++count;
    if (worst >= 0 && drop.total_percent <= most.total_percent) return;
    worst = load;
    most = drop;
  }
};

void add_drop(const Seen& seen, const Losing& losing, const std::string& subject,
              std::string_view where, std::string_view look, std::vector<WiringFinding>& findings) {
  const VoltageDropLimits& limits = seen.tables.voltage_drop;
  std::string implication = fmt::format(
      "An informational note advises {} % and {} % at most; it is not enforceable in the United "
      "States, and a requirement in Canada. Long or small conductors, or a poor joint, are "
      "consistent with such a loss.",
      exact(limits.branch_percent), exact(limits.total_percent));
  if (losing.count > 1) {
    implication += fmt::format(" It is the worst of {} loads {}.", losing.count, where);
  }
  add_finding(
      seen, findings, "voltage drop", FindingSeverity::Note, subject,
      {found_text(seen, losing.worst, losing.most), std::move(implication), std::string(look)},
      short_form(limits.source) + ", read: " + limits.source.read);
}

// Loss in a branch circuit: one finding for each cable. Loss on the way to a panel: one for each
// panel, whatever hangs on it.
void check_drops(const Seen& seen, std::vector<WiringFinding>& findings) {
  const VoltageDropLimits& limits = seen.tables.voltage_drop;
  std::vector<Losing> by_panel(seen.house.panels.size());
  for (const CableModel& cable : seen.model.cables) {
    Losing own;
    for (int l : cable.loads) {
      if (seen.as_found.load_amps[at(l)] == Complex{}) continue;
      const Drop drop = drop_of(seen, at(l));
      const int panel = cable.hots[at(seen.model.loads[at(l)].from)].panel;
      if (drop.branch_percent > limits.branch_percent ||
          (panel == 0 && is_too_much(drop, limits))) {
        own.add(l, drop);
      } else if (is_too_much(drop, limits)) {
        by_panel[at(panel)].add(l, drop);
      }
    }
    if (own.worst < 0) continue;
    add_drop(seen, own, seen.house.loads[at(own.worst)].name, "on this cable",
             "Have the volts read at the outlet with this load on; where they agree, have a "
             "licensed electrician look at the joints and the size of its conductors.",
             findings);
  }
  for (std::size_t p = 0; p < by_panel.size(); ++p) {
    if (by_panel[p].worst < 0) continue;
    add_drop(seen, by_panel[p], seen.house.panels[p].name,
             "of this panel, each within its circuit's share",
             "Have the volts read at this panel and at the first with these loads on; where they "
             "agree, have a licensed electrician look at the joints and the size of the feeder.",
             findings);
  }
}

// Loads past what they withstand with every neutral sound. A nameplate of another voltage has a
// finding of its own, and so have the volts of the legs, where they alone take a load so far.
void check_withstood(const Seen& seen, std::vector<WiringFinding>& findings) {
  std::vector<PastAsFound> over;
  for (const PastAsFound& past : past_as_found(seen)) {
    if (!past.by_the_legs && !is_on_another_voltage(seen, at(past.load))) over.push_back(past);
  }
  if (over.empty()) return;
  const PastAsFound& worst = over.front();
  const std::string& name = seen.house.loads[at(worst.load)].name;
  std::string observation =
      fmt::format("As found, with every neutral sound, {} has {} V; it is taken to withstand {} V.",
                  in_quotes(name), figure(worst.volts), figure(worst.withstands));
  if (over.size() > 1) {
    observation += fmt::format(" It is the worst of {} loads past their limits.", over.size());
  }
  add_finding(
      seen, findings, "load above what it withstands", FindingSeverity::Danger, name,
      {std::move(observation),
       fmt::format("By the severity bands of this audit: {}. No fault is needed for it.",
                   severity_of(seen.tables, worst.volts / worst.withstands).name),
       "Check the supply volts, the limit and the connection as entered; where they are right, "
       "unplug it and have the utility or a licensed electrician look at the supply volts."});
}

// Volts of a load on the base of its system's limits, which are leg to neutral.
double on_base(const Seen& seen, std::size_t l) {
  return std::abs(seen.as_found.load_volts[l]) * seen.wiring.system.nominal_volts /
         seen.model.loads[l].nominal_volts;
}

// Volts at the point of use beyond the limits for it. Left out: what the limits at the service or a
// voltage drop already tell, and loads of another voltage.
void check_utilization(const Seen& seen, std::vector<WiringFinding>& findings) {
  if (!broken_at_service(seen).limits.empty()) return;
  int worst = -1;
  int count = 0;
  BrokenLimits broken;
  for (std::size_t l = 0; l < seen.house.loads.size(); ++l) {
    if (!seen.on[l] || is_on_another_voltage(seen, l)) continue;
    if (is_too_much(drop_of(seen, l), seen.tables.voltage_drop)) continue;
    BrokenLimits here = broken_limits(seen, on_base(seen, l), LimitsAt::Use);
    if (here.limits.empty()) continue;
    ++count;
    if (worst >= 0 && here.limits.size() <= broken.limits.size()) continue;
    worst = static_cast<int>(l);
    broken = std::move(here);
  }
  if (worst < 0) return;
  const std::string& name = seen.house.loads[at(worst)].name;
  std::string observation = fmt::format(
      "As found, {} has {} V ({} V on the base of the limits).", in_quotes(name),
      figure(std::abs(seen.as_found.load_volts[at(worst)])), figure(on_base(seen, at(worst))));
  if (count > 1) observation += fmt::format(" It is one of {} loads outside these limits.", count);
  add_finding(
      seen, findings, "utilization volts beyond the limits",
      broken.widest ? FindingSeverity::Caution : FindingSeverity::Note, name,
      {std::move(observation),
       fmt::format("That is outside {}. Equipment is built for volts inside.", limits_text(broken)),
       "Have the volts read at the outlet and at the first panel under the same load before "
       "anything is concluded."});
}

}  // namespace

void find_voltage_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t l = 0; l < seen.house.loads.size(); ++l) check_nameplate(seen, l, findings);
  check_withstood(seen, findings);
  check_drops(seen, findings);
  check_utilization(seen, findings);
}

}  // namespace evenleg
