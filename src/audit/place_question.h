// What is asked about one neutral at fault: the extremes of every load and empty outlet beyond it.
// Loads that are alike (credible.h) are asked about once.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/wiring.h"
#include "src/audit/worst_case.h"

namespace evenleg {

class PlaceQuestion {
 public:
  // The references outlive it.
  PlaceQuestion(const House& house, const Wiring& wiring, const Model& model,
                const WorstCase& worst, const NeutralFault& fault);

  // The same of the same place with so many ohms added, not searched yet.
  [[nodiscard]] PlaceQuestion with_ohms(double added) const;

  [[nodiscard]] const NeutralFault& fault() const { return fault_; }
  [[nodiscard]] FaultCase& fault_case() { return *case_; }
  [[nodiscard]] const FaultCase& fault_case() const { return *case_; }
  // What the fault case was asked: a load of each kind of like ones, then the empty terminals.
  [[nodiscard]] const std::vector<Terminals>& asked() const { return asked_; }
  // The loads that one of the asked stands for; empty for empty terminals.
  [[nodiscard]] const std::vector<std::vector<int>>& loads_of_asked() const { return stands_for_; }

  // `solved`: the state with the loads `on`, this neutral at fault.
  [[nodiscard]] std::vector<LoadExtremes> loads(const std::vector<bool>& on,
                                                const Solution& solved) const;
  [[nodiscard]] std::vector<OutletExtremes> empty_outlets() const;

 private:
  PlaceQuestion(const PlaceQuestion& like, const NeutralFault& fault);

  const Wiring* wiring_;
  const WorstCase* worst_;
  NeutralFault fault_;
  std::vector<Terminals> loads_;
  std::vector<std::size_t> answer_;  // of each load: its place in asked_
  std::vector<std::pair<int, Terminals>> empty_;
  std::vector<Terminals> asked_;
  std::vector<std::vector<int>> stands_for_;
  std::unique_ptr<FaultCase> case_;
};

// A neutral-loss device in the panel just beyond the break, if some credible state reaches its
// volts.
[[nodiscard]] std::optional<std::string> protecting_panel(const House& house, const Model& model,
                                                          const WorstCase& worst,
                                                          const NeutralFault& fault);

// A state in which `stand_in` is on, with a load like it in its place.
[[nodiscard]] std::vector<int> with_load(std::vector<int> on, int stand_in, int load);

}  // namespace evenleg
