#include "tests/report/sample_audit.h"

namespace evenleg {
namespace {

Load load(const char* name, const char* at, double watts) {
  Load made;
  made.name = name;
  made.at = at;
  made.watts = watts;
  return made;
}

House sample_house() {
  House house;
  house.about["name"] = "Fernhill Cottage";
  house.supply.system = "120/240 split-phase";
  house.service.emplace().earth_return_ohms = 30;
  house.panels.push_back({"Main", 8, {}, {}, {}, {}, {}});
  house.outlets.push_back({"Worktop", "Kitchen counter", {}, {}});
  house.outlets.push_back({"Snug", "Kitchen counter", {}, {}});
  house.outlets.push_back({"Spare", "Kitchen counter", {}, {}});
  house.loads = {load("Kettle", "Worktop", 1440), load("Reading lamp", "Snug", 60),
                 load("Iron", "Worktop", 1200)};
  house.loads[kIron].on = false;
  house.loads[kIron].max_volts = 126;
  return house;
}

Tables sample_tables() {
  Tables tables;
  tables.systems = {{"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true}};
  LoadKind plain;
  plain.name = "plain";
  plain.withstands_source = {"A curve", "2000", "steady state", "1 %", "second hand"};
  tables.load_kinds = {plain};
  const Citation standard{"A standard", "2016", "table 1", "1 V", "at source"};
  tables.voltage_limits = {{"Here", "service", 120, 114, 126, standard},
                           {"Elsewhere", "service", 230, 207, 253, standard}};
  tables.severities = {{"within limits", 0, "As much as it withstands."},
                       {"damage likely", 1.36, "Much more than it withstands."}};
  tables.severities_source = {"Bands", "2026", "", "0.01", "judgement"};
  return tables;
}

Extreme<Volts> proven_volts(double value, std::vector<int> on) {
  return {volts(value), volts(value), true, std::move(on)};
}

// With any of these neutrals open the same two loads are in series.
OpenNeutral open_at(Place place) {
  OpenNeutral open;
  open.place = std::move(place);
  open.neutral_shift = volts(110.4);
  open.loads = {
      {kKettle, volts(9.6), proven_volts(9.6, {kKettle, kLamp}), proven_volts(0, {kKettle})},
      {kLamp, volts(230.4), proven_volts(230.4, {kKettle, kLamp}), proven_volts(0, {kLamp})},
      {kIron, {}, proven_volts(11.4286, {kLamp, kIron}), proven_volts(0, {kIron})}};
  return open;
}

}  // namespace

SampleAudit sample_audit() {
  SampleAudit sample{sample_house(), sample_tables(), {}};
  Audit& audit = sample.audit;
  audit.status = SolveStatus::Solved;
  audit.legs = {{"L1", amps(12), volts(120)}, {"L2", amps(0.5), volts(120)}};
  audit.loads = {{kKettle, volts(120), amps(12)}, {kLamp, volts(120), amps(0.5)}};
  const Extreme<Amps> kettle_alone{amps(12), amps(12), true, {kKettle}};
  audit.neutrals = {
      {"service", PlaceKind::Service, amps(11.5), amps(0.25), kettle_alone, {}, ""},
      {"Kitchen counter", PlaceKind::SharedRun, amps(11.5), {}, kettle_alone, amps(20), "A code"}};
  audit.open_neutral = {open_at({"service", PlaceKind::Service, 0, -1, -1}),
                        open_at({"Kitchen counter", PlaceKind::SharedRun, 0, 0, 1})};
  audit.open_neutral[1].outlets = {
      {2, "L2-N", proven_volts(240, {kKettle}), proven_volts(0, {kLamp})}};
  // 230.4 / 132, 11.4286 / 126 and 9.6 / 132.
  audit.ranking = {
      {kLamp, 0, volts(230.4), volts(132), 1.74545, "damage likely", {kKettle, kLamp}},
      {kIron, 0, volts(11.4286), volts(126), 0.09070, "within limits", {kLamp, kIron}},
      {kKettle, 0, volts(9.6), volts(132), 0.07273, "within limits", {kKettle, kLamp}}};
  audit.findings = {{"separate disconnects", FindingSeverity::Caution, "Kitchen counter",
                     "Its breakers are not tied.", "A code"},
                    {"same-leg multiwire", FindingSeverity::Danger, "Kitchen counter",
                     "Both circuits sit on L1.", ""}};
  return sample;
}

}  // namespace evenleg
