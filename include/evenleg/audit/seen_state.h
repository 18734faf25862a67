// One state of a house as someone watches it: any loads on, one neutral sound, loosened or open.
//
// Every load is a constant impedance, as in an audit; nothing is searched. Magnitudes are RMS. Volts are null where nothing fixes them: terminals whose
// neutral hangs on nothing. A watcher keeps what depends on the house alone; asking is const and
// safe from several threads at once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"
#include "evenleg/network/places.h"
#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"
#include "evenleg/units/quantity.h"

namespace evenleg {

struct AskedState {
  std::vector<bool> on;  // by load
  std::optional<NeutralFault> fault{};
};

struct SeenLeg {
  std::string leg;
  std::optional<Volts> volts;  // to the panel's own neutral
  Amps amps;
};

struct SeenPanel {
  std::vector<SeenLeg> legs;
  Amps neutral_amps;
  bool isolated = false;  // its neutral hangs on nothing
};

struct SeenNeutral {
  Place place;
  Amps amps;
  std::optional<Amps> rated_amps;  // what its conductor carries, where that is known
};

struct SeenTerminals {
  std::string legs;  // "L2-N"
  std::optional<Volts> volts;
};

struct SeenLoad {
  std::string legs;
  std::optional<Volts> volts;        // of its terminals, whether it is on or off
  std::optional<Volts> sound_volts;  // the same loads on, every neutral sound
  Amps amps;                         // 0 when off
  Watts watts;
  Volts nominal;
  Volts withstands;
};

struct SeenState {
  SolveStatus status = SolveStatus::NotRun;
  Amps service_neutral_amps;  // in the conductor alone
  Amps earth_return_amps;
  Volts neutral_shift;  // of the first panel's neutral to the source's; 0 where it hangs on nothing
  std::vector<SeenPanel> panels;
  std::vector<SeenNeutral> neutrals;            // of every fault place
  std::vector<std::vector<Amps>> circuit_amps;  // [circuit][pole]
  std::vector<std::vector<SeenTerminals>> outlets;
  std::vector<SeenLoad> loads;
  std::vector<std::string>
      not_credible;  // why the audit would not count these loads; empty: it would
};

class StateWatcher {
 public:
  // Requires: validate() found nothing. The tables must outlive it.
  StateWatcher(House house, const Tables& tables);

  [[nodiscard]] const House& house() const { return house_; }
  [[nodiscard]] const Wiring& wiring() const { return wiring_; }
  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] const std::vector<Place>& places() const { return places_; }

  // As found, or in a scenario. Throws: Error(Request) for a scenario that there is not.
  [[nodiscard]] std::vector<bool> running(const std::optional<std::string>& scenario) const;
  // Requires: asked.on has one entry for each load; asked.fault is at one of places().
  [[nodiscard]] SeenState at(const AskedState& asked) const;

 private:
  House house_;
  const Tables& tables_;
  Wiring wiring_;
  Model model_;
  std::vector<Place> places_;
};

}  // namespace evenleg
