#include "src/balance/demand_items.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "evenleg/house/wiring.h"

namespace evenleg {
namespace {

constexpr std::string_view kGeneral = "general";
constexpr std::string_view kDescribed = "as described";

// One load by itself.
struct Part {
  double va = 0;
  int from = 0;
  int to = kNeutral;  // legs of the supply
  bool motor = false;
};

bool is_motor(const LoadKind& kind) {
  return kind.behaviour == Behaviour::Motor || kind.behaviour == Behaviour::Compressor;
}

// Watts count as volt-amperes but for motors and where the power factor is given.
double va_of(const Load& load, const LoadKind& kind, double volts) {
  const double factor = load.power_factor.value_or(is_motor(kind) ? kind.power_factor : 1);
  return nameplate_volt_amps(load, factor, volts);
}

Part part_of(const Load& load, const LoadKind& kind, const Wiring& wiring, const WiredLoad& wired) {
  const Cable& cable = wiring.cables[static_cast<std::size_t>(wired.cable)];
  Part part;
  part.from = cable.hots[static_cast<std::size_t>(wired.from)].leg;
  if (wired.to != kNeutral) part.to = cable.hots[static_cast<std::size_t>(wired.to)].leg;
  const double volts =
      part.to == kNeutral ? demand_leg_volts(wiring.system) : demand_line_volts(wiring.system);
  part.va = va_of(load, kind, volts);
  part.motor = is_motor(kind);
  return part;
}

void add_part(DemandItem& item, const Part& part, const SupplySystem& system) {
  item.va += part.va;
  item.motor = item.motor || part.motor;
  const auto from = static_cast<std::size_t>(part.from);
  if (part.to == kNeutral) {
    item.neutral_va += part.va;
    const double amps = part.va / demand_leg_volts(system);
    item.leg_amps[from] += amps;
    item.neutral_amps[from] += amps;
    return;
  }
  const double amps = part.va / demand_line_volts(system);
  item.leg_amps[from] += amps;
  item.leg_amps[static_cast<std::size_t>(part.to)] += amps;
}

DemandItem new_item(const std::string& name, std::size_t legs) {
  DemandItem item;
  item.name = name;
  item.category = kGeneral;
  item.category_from = "its kind";
  item.leg_amps.assign(legs, 0);
  item.neutral_amps.assign(legs, 0);
  return item;
}

// What the description says goes before the kind, and of kinds the first that is not general.
void take_category(DemandItem& item, const Load& load, const LoadKind& kind) {
  if (load.demand) {
    item.category = *load.demand;
    item.category_from = kDescribed;
  } else if (item.category == kGeneral && item.category_from != kDescribed) {
    item.category = kind.demand;
  }
}

}  // namespace

double demand_leg_volts(const SupplySystem& system) {
  return std::round(nominal_volts(system, 0, kNeutral));
}

double demand_line_volts(const SupplySystem& system) {
  return std::round(nominal_volts(system, 0, 1));
}

std::vector<DemandItem> demand_items(const House& house, const Tables& tables,
                                     const SupplySystem& system,
                                     const std::vector<AddedLoad>& added) {
  const Wiring wiring = wire(house, system);
  const std::size_t legs = system.legs.size();
  std::vector<DemandItem> items;
  std::map<std::string, std::size_t> appliances;
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const Load& load = house.loads[l];
    const LoadKind* known = find_kind(tables, load.kind);
    const LoadKind kind = known == nullptr ? LoadKind{} : *known;
    std::size_t at = items.size();
    if (load.appliance) at = appliances.emplace(*load.appliance, at).first->second;
    if (at == items.size()) items.push_back(new_item(load.appliance.value_or(load.name), legs));
    DemandItem& item = items[at];
    take_category(item, load, kind);
    if (load.noncoincident) item.noncoincident = load.noncoincident;
    add_part(item, part_of(load, kind, wiring, wiring.loads[l]), system);
  }
  for (DemandItem& item : items) {
    const bool across = item.va > item.neutral_va;
    if (item.category == kGeneral && item.category_from != kDescribed && across) {
      item.category = "fastened appliance";
      item.category_from = "line to line";
    }
    item.motor = item.motor || item.category == "motor";
  }
  for (const AddedLoad& load : added) {
    DemandItem item = new_item(load.name, legs);
    item.category = load.category;
    item.category_from = "added";
    const LoadKind* kind = find_kind(tables, load.name);
    add_part(item, {load.va, 0, 1, kind != nullptr && is_motor(*kind)}, system);
    item.motor = item.motor || item.category == "motor" || item.category == "cooling" ||
                 item.category == "heat pump";
    items.push_back(std::move(item));
  }
  return items;
}

}  // namespace evenleg
