// Loads on a voltage that is not theirs, and voltage lost on the way as found.
#include <fmt/format.h>

#include <cmath>

#include "evenleg/base/format.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }
constexpr double kPercent = 100;

// A nameplate this far from its connection's nominal volts is another voltage and not a name for the
// same one (110 to 120, 220 to 240, 230 to 240 V all lie within it). Judgement, from the 10 % that
// motors are built for, NEMA MG 1-12.44.
constexpr double kOtherVoltage = 0.10;

void check_nameplate(const Seen& seen, std::size_t l, std::vector<WiringFinding>& findings) {
  const Load& load = seen.house.loads[l];
  if (!load.volts) return;
  const double nominal = seen.model.loads[l].nominal_volts;
  const double ratio = nominal / *load.volts;
  if (std::abs(ratio - 1) <= kOtherVoltage) return;
  const bool high = ratio > 1;
  findings.push_back(
      {"load on another voltage", high ? FindingSeverity::Danger : FindingSeverity::Caution,
       load.name,
       fmt::format("\"{}\" is rated {} V and is connected to {} V nominal: {} of its nameplate power if "
                   "it is a plain resistance. The connection or the entry should be checked.",
                   load.name, figure(*load.volts), figure(nominal),
                   fmt::format("{} %", figure(ratio * ratio * kPercent))),
       "arithmetic: power goes with the square of the volts"});
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
    const Complex to = load.to == kNeutral
                           ? seen.as_found.panels[at(neutral_panel)].neutral
                           : bus(cable.hots[at(load.to)].leg);
    return std::abs(bus(from.leg) - to);
  };
  const double at_load = std::abs(seen.as_found.load_volts[l]);
  return {kPercent * (volts_at(from.panel, cable.neutral_panel) - at_load) / load.nominal_volts,
          kPercent * (volts_at(0, 0) - at_load) / load.nominal_volts};
}

void check_drop(const Seen& seen, std::size_t l, std::vector<WiringFinding>& findings) {
  const Drop drop = drop_of(seen, l);
  const VoltageDropLimits& limits = seen.tables.voltage_drop;
  const bool branch = drop.branch_percent > limits.branch_percent;
  const bool total = drop.total_percent > limits.total_percent;
  if (!branch && !total) return;
  const Load& load = seen.house.loads[l];
  std::string text = fmt::format("\"{}\" has {} V as found: {} % lost from its panel and {} % from the "
                                 "first panel, where {} % and {} % are recommended at most. Long or small "
                                 "conductors, or a poor joint, are consistent with such a loss.",
                                 load.name, figure(std::abs(seen.as_found.load_volts[l])),
                                 fixed(drop.branch_percent, 1), fixed(drop.total_percent, 1),
                                 figure(limits.branch_percent), figure(limits.total_percent));
  findings.push_back({"voltage drop", FindingSeverity::Note, load.name, std::move(text),
                      short_form(limits.source)});
}

}  // namespace

void find_voltage_faults(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (std::size_t l = 0; l < seen.house.loads.size(); ++l) {
    check_nameplate(seen, l, findings);
    if (seen.as_found.load_amps[l] != Complex{}) check_drop(seen, l, findings);
  }
}

}  // namespace evenleg
