// The extremes over all credible states: at the terminals beyond an open or loosened neutral, and in
// the neutrals themselves.
//
// Small houses are enumerated; others are searched (search.h) and the result certified (certify.h).
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "src/audit/fault_case.h"

namespace evenleg {

class WorstCase {
 public:
  WorstCase(const House& house, const Model& model, const WorstCaseOptions& options = {});

  // The terminals' question, neither searched nor proven yet. The WorstCase outlives it.
  [[nodiscard]] std::unique_ptr<FaultCase> fault_case(const NeutralFault& fault,
                                                      std::vector<Terminals> terminals,
                                                      const FaultCase* like = nullptr) const;
  // The same, answered.
  [[nodiscard]] std::vector<Extremes<Volts>> terminals(
      const NeutralFault& fault, const std::vector<Terminals>& terminals) const;

  // Highest amperes of the neutral at a place, all neutrals sound. For the service: what returns
  // beside the hots, conductor and earth together.
  [[nodiscard]] std::optional<Extreme<Amps>> neutral_amps(const Place& place) const;
  // The same for a cable's neutral at its panel end.
  [[nodiscard]] std::optional<Extreme<Amps>> cable_neutral_amps(int cable) const;
  // Highest amperes through a joint with some ohms added, in the conductor alone.
  // Requires: more than zero ohms, and not open.
  [[nodiscard]] std::optional<Extreme<Amps>> joint_amps(const NeutralFault& fault) const;

  // Highest volts from a leg to neutral at a panel with a neutral at fault, found without proof.
  [[nodiscard]] double panel_leg_volts(const NeutralFault& fault, int panel, int leg) const;

  [[nodiscard]] const Credible& credible() const { return credible_; }

 private:
  [[nodiscard]] Setting setting(const std::optional<NeutralFault>& fault) const;
  [[nodiscard]] Problem problem_of(const Setting& setting) const;
  // Marks the ports whose currents return through a panel's run.
  [[nodiscard]] Vector returning_through(const Setting& setting, int panel) const;
  [[nodiscard]] std::optional<Extreme<Amps>> highest_amps(const Setting& setting,
                                                          const Problem& problem) const;

  const Model& model_;
  WorstCaseOptions options_;
  Credible credible_;
  Elements sound_;
};

}  // namespace evenleg
