#include "tests/report/sample_neutral.h"

#include <cmath>

#include "tests/report/sample_audit.h"

namespace evenleg {
namespace {

constexpr double kSource = 120;
constexpr double kKettleOhms = 10, kLampOhms = 240, kSoundOhms = 0.1;

// n of sample_neutral.h with these loads on, of the far end of the neutral.
double shift(bool kettle, bool lamp, double rn) {
  const double y1 = kettle ? 1 / kKettleOhms : 0;
  const double y2 = lamp ? 1 / kLampOhms : 0;
  return kSource * (y1 - y2) / (y1 + y2 + 1 / rn);
}

Extreme<Volts> exactly(double value, std::vector<int> on) {
  return {volts(value), volts(value), true, std::move(on)};
}

NeutralPoint point(double added) {
  const double rn = kSoundOhms + added;
  const double n = shift(true, true, rn);
  const bool open = std::isinf(added);
  NeutralPoint made;
  made.added = ohms(added);
  made.legs = {{"L1", {}, volts(kSource - n)}, {"L2", {}, volts(kSource + n)}};
  made.neutral_shift = volts(n);
  made.amps = amps(n / rn);
  made.outlets = {{"Worktop", "L1-N", volts(kSource - n)},
                  {"Snug", "L2-N", volts(kSource + n)},
                  {"Spare", "L2-N", volts(kSource + n)}};
  const double kettle_alone = kSource - shift(true, false, rn);
  const double lamp_alone = kSource + shift(false, true, rn);
  made.loads = {
      {kKettle, volts(kSource - n), exactly(kSource - n, {kKettle, kLamp}),
       exactly(kettle_alone, {kKettle})},
      {kLamp, volts(kSource + n), exactly(kSource + n, {kKettle, kLamp}),
       exactly(lamp_alone, {kLamp})}};
  made.empty = {{2, "L2-N", exactly(kSource + shift(true, false, rn), {kKettle}),
                 exactly(lamp_alone, {kLamp})}};
  made.highest = made.loads[1].highest;
  made.highest_load = kLamp;
  made.lowest = made.loads[0].lowest;
  made.lowest_load = kKettle;
  if (open || added == 0) return made;
  made.heat = watts(made.amps.si() * made.amps.si() * added);
  const double most = kettle_alone / kKettleOhms;
  made.highest_heat = {{watts(most * most * added), watts(most * most * added), true, {kKettle}}};
  return made;
}

}  // namespace

SampleNeutral sample_neutral() {
  SampleAudit audit = sample_audit();
  SampleNeutral sample{audit.house, audit.tables, {}};
  sample.house.loads.pop_back();  // the iron
  sample.house.loads[kKettle].kind = "mill";
  LoadKind mill = sample.tables.load_kinds.front();
  mill.name = "mill";
  mill.law.name = "mill law";
  mill.law.stalls_below = 0.55;  // of 120 V: 66 V
  mill.law.source = {"A law", "1998", "", "", "from memory"};
  mill.law.limits_source = {"A motor book", "1999", "", "", "from memory"};
  sample.tables.load_kinds.push_back(mill);
  NeutralDepth& depth = sample.depth;
  depth.place = {"service", PlaceKind::Service, 0, -1, -1};
  depth.sound = ohms(kSoundOhms);
  depth.high = {ohms(kHighOhms), kLamp, volts(132), {kKettle, kLamp}, true};
  depth.low = {ohms(kLowOhms), kKettle, volts(66), {kKettle}, true};
  depth.curve = {point(0), point(kHighOhms), point(kLowOhms), point(kOpen)};
  return sample;
}

}  // namespace evenleg
