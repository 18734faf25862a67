#include "tests/report/sample_balance.h"

namespace evenleg {
namespace {

Circuit circuit(std::string name, int space) {
  Circuit made;
  made.name = std::move(name);
  made.space = space;
  return made;
}

Load load(std::string name, std::string at, double amps) {
  Load made;
  made.name = std::move(name);
  made.at = std::move(at);
  made.amps = amps;
  return made;
}

}  // namespace

SampleBalance sample_balance() {
  SampleBalance sample;
  sample.tables = load_tables();
  House& house = sample.house;
  house.about["name"] = "Five Loads";
  house.supply.system = "120/240 split-phase";
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 8;
  house.circuits = {circuit("One", 1), circuit("Two", 2), circuit("Three", 5), circuit("Four", 3),
                    circuit("Five", 4)};
  house.circuits[1].measured_amps = 6;
  house.circuits[4].locked = true;
  house.loads = {load("Load 1", "One", 6), load("Load 2", "Two", 5), load("Load 3", "Three", 4),
                 load("Load 4", "Four", 4), load("Load 5", "Five", 4)};
  house.scenarios = {{"Evening", {"Load 1", "Load 3"}, {}}};
  Balance& balance = sample.balance;
  balance.scenarios = {{"as found", {16, 8}, {{16, 8}}}, {"Evening", {10, 0}, {{10, 0}}}};
  balance.spread_amps = 10;
  BalancePlan plan;
  plan.moves = 1;
  plan.spread_amps = 2;
  plan.proven = true;
  plan.moved = {{2, 0, 5, 7, {"L1"}, {"L2"}, false}};
  plan.scenarios = {{"as found", {12, 12}, {{12, 12}}}, {"Evening", {6, 4}, {{6, 4}}}};
  balance.plans = {plan};
  balance.fixed = {{4, "locked"}};
  balance.measured = {1};
  balance.searched_moves = 5;
  return sample;
}

PlannedHouse sample_planned() {
  PlannedHouse planned{0, sample_balance().house};
  planned.house.circuits[2].space = 7;
  return planned;
}

NeutralFigures sample_figures() {
  NeutralFigures figures;
  figures.as_found = amps(8);
  figures.highest = Extreme<Amps>{amps(16), amps(16), true, {0, 1, 2}};
  figures.loads = 5;
  figures.past = 2;
  RankRow worst;
  worst.load = 3;
  worst.volts = volts(231);
  worst.withstands = volts(132);
  worst.over = 1.75;
  worst.severity = "damage likely";
  figures.worst = worst;
  figures.worst_place = "service";
  return figures;
}

}  // namespace evenleg
