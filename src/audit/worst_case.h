// The extremes over all credible states: at the terminals beyond an open or loosened neutral, and in
// the neutrals when all are sound.
//
// Small houses are enumerated; others are searched (search.h) and the result certified (certify.h).
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/audit/credible.h"
#include "src/audit/certify.h"
#include "src/audit/element.h"
#include "src/audit/problem.h"

namespace evenleg {

struct WorstCaseOptions {
  bool certify = true;
  std::uint64_t enumerate_up_to = 16384;      // joint states of a house that are simply all tried
  std::uint64_t enumerate_at_most = 2000000;  // the same where certificates prove dear
  CertifyOptions certificate{};
};

template <class Quantity>
struct Extremes {
  std::optional<Extreme<Quantity>> highest;
  std::optional<Extreme<Quantity>> lowest;
};

class WorstCase {
 public:
  WorstCase(const House& house, const Model& model, const WorstCaseOptions& options = {});

  // For each of `terminals`, all beyond the fault: volts across them over the credible states in
  // which their load (if any) is on.
  [[nodiscard]] std::vector<Extremes<Volts>> terminals(const NeutralFault& fault,
                                                       const std::vector<Terminals>& terminals);

  // Highest amperes of the neutral at a place, all neutrals sound. For the service: what returns
  // beside the hots, conductor and earth together.
  [[nodiscard]] std::optional<Extreme<Amps>> neutral_amps(const Place& place);
  // The same for a cable's neutral at its panel end.
  [[nodiscard]] std::optional<Extreme<Amps>> cable_neutral_amps(int cable);

  // Highest volts from a leg to neutral at a panel with a neutral at fault, found without proof.
  [[nodiscard]] double panel_leg_volts(const NeutralFault& fault, int panel, int leg);

  [[nodiscard]] const Credible& credible() const { return credible_; }

 private:
  struct Setting;  // the equations and elements of one fault

  [[nodiscard]] Setting setting_of(const std::optional<NeutralFault>& fault) const;
  [[nodiscard]] std::vector<std::vector<int>> all_states(const std::vector<Element>& elements) const;
  template <class Quantity>
  [[nodiscard]] std::optional<Extreme<Quantity>> extreme(const std::vector<Problem>& cases,
                                                         Goal goal,
                                                         const CertifyOptions& options,
                                                         std::optional<Choice>& warm) const;
  [[nodiscard]] std::vector<int> loads_on(const std::vector<Element>& elements,
                                          const Choice& choice) const;
  [[nodiscard]] Extremes<Volts> terminal_extremes(const Setting& setting, const Rows& rows,
                                                  std::size_t index, std::size_t count,
                                                  const Terminals& terminals,
                                                  const CertifyOptions& certificate,
                                                  std::optional<Choice>& warm_high,
                                                  std::optional<Choice>& warm_low) const;
  [[nodiscard]] std::optional<Extreme<Amps>> highest_amps(const Setting& setting,
                                                          const Problem& problem) const;
  void enumerate(const Setting& setting, const std::vector<Terminals>& terminals,
                 const std::vector<Rows>& rows, std::vector<Extremes<Volts>>& extremes) const;

  const Model& model_;
  WorstCaseOptions options_;
  Credible credible_;
  PanelSystem sound_;
  std::vector<Element> elements_;  // with every neutral sound
};

// The loads with an end on a neutral beyond the place, and the empty outlets there.
[[nodiscard]] std::vector<Terminals> load_terminals_beyond(const Model& model, const Place& place);
[[nodiscard]] std::vector<std::pair<int, Terminals>> empty_terminals_beyond(
    const House& house, const Wiring& wiring, const Model& model, const Place& place);

}  // namespace evenleg
