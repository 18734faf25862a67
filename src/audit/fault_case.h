// The extremes over all credible states of the volts across terminals beyond one neutral at fault.
//
// In steps, so that what matters most can be proven first: search() gives values, prove() makes one
// pair of terminals certain after another, in any order, finish() what is then left. A house with
// few joint states is enumerated by search() already; one that can still be enumerated is, by
// finish(), where a certificate turned out to be dear. The answers depend on neither the order nor
// the threads.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/audit/credible.h"
#include "src/audit/case_proof.h"

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

// The equations and elements of one fault, or of a sound house.
struct Setting {
  std::optional<NeutralFault> fault;
  PanelSystem system;
  Equations equations;
  Elements elements;
  bool complete = true;  // every element's states are all listed
};

// `sound`: the elements with every neutral sound.
[[nodiscard]] Setting setting_of(const Model& model, const Credible& credible,
                                 const Elements& sound, const std::optional<NeutralFault>& fault);
[[nodiscard]] double joint_states(const Elements& elements);
[[nodiscard]] std::vector<std::vector<int>> all_states(const Elements& elements);
[[nodiscard]] std::vector<int> loads_on(const Model& model, const Elements& elements,
                                        const Choice& choice);
// Rounding's remains read 0.
[[nodiscard]] double settled(double magnitude);

class FaultCase {
 public:
  // For each of `terminals`, all beyond the fault: volts across them over the credible states in
  // which their load (if any) is on. The references outlive it.
  // `like`: of the same place and terminals with other ohms, to take from it what they leave as it
  // is.
  FaultCase(const Model& model, const Credible& credible, Setting setting,
            std::vector<Terminals> terminals, const WorstCaseOptions& options,
            const FaultCase* like = nullptr);

  // Values.
  void search();
  // Values of one side of some terminals only, from the states of another fault case of the same
  // terminals. Where all states are tried, both sides of all.
  void search(Goal goal, const std::vector<std::size_t>& which, const FaultCase& warm);
  // Certifies both extremes of one pair of terminals. Calls for different ones may run at once.
  void prove(std::size_t terminal);
  // Whether no credible state takes a terminal beyond `limit`; its value may turn out further out.
  [[nodiscard]] bool prove_within(std::size_t terminal, Goal goal, double limit);
  // After the last prove().
  void finish();

  [[nodiscard]] std::size_t size() const { return terminals_.size(); }
  // Nothing is left to prove: everything was enumerated, or there is no credible state.
  [[nodiscard]] bool settled_by_search() const { return enumerated_; }
  [[nodiscard]] const std::vector<Extremes<Volts>>& extremes() const { return extremes_; }

 private:
  // A question's cases, and a choice that feeds its terminals nothing, if there is one.
  struct Cases {
    std::vector<Problem> fed;
    std::optional<Choice> unfed;
  };
  struct Answer {
    CasesFound highest;
    CasesFound lowest;
  };
  struct Warm {
    std::optional<Choice> highest;
    std::optional<Choice> lowest;
  };

  [[nodiscard]] Cases cases_of(std::size_t terminal) const;
  // Tries all states where there are few; else calls `search` for each of `count`.
  void search_each(std::size_t count, const std::function<void(std::size_t, Warm&)>& search);
  void search_side(std::size_t terminal, const Cases& cases, Goal goal, Warm& warm);
  void prove_side(std::size_t terminal, const Cases& cases, Goal goal);
  [[nodiscard]] CertifyOptions certificate_options() const;
  [[nodiscard]] bool may_enumerate(std::uint64_t up_to) const;
  [[nodiscard]] bool is_on(std::size_t terminal, const CableState& state) const;
  void take(std::size_t terminal, Goal goal, const Found& found, double bound, bool proven);
  // What a certificate adds to what is known: a value further out, a bound nearer to it.
  void take_certified(std::size_t terminal, Goal goal, const Certificate& certificate);
  void enumerate();
  void take_if_further(std::size_t terminal, const Choice& choice, double magnitude);

  const Model& model_;
  const Credible& credible_;
  Setting setting_;
  std::vector<Terminals> terminals_;
  WorstCaseOptions options_;
  std::shared_ptr<const std::vector<Rows>> rows_;  // by element
  std::vector<std::size_t> row_of_;   // by terminal: its place among those of its element
  std::vector<std::size_t> rows_in_;  // by element: how many terminals it has
  std::vector<Answer> answers_;
  std::vector<Extremes<Volts>> extremes_;
  bool enumerated_ = false;
  std::atomic<bool> dear_ = false;
};

// The loads with an end on a neutral beyond the place, and the empty outlets there.
[[nodiscard]] std::vector<Terminals> load_terminals_beyond(const Model& model, const Place& place);
[[nodiscard]] std::vector<std::pair<int, Terminals>> empty_terminals_beyond(
    const House& house, const Wiring& wiring, const Model& model, const Place& place);

// Where a meter can be held from a hot to the neutral beyond the place: at each outlet, and at each
// load that sits on no outlet.
struct OutletTerminals {
  int cable = 0;
  int box = 0;
  int hot = 0;
  std::string where;  // the outlet's name, else that of the circuit or multiwire
};
[[nodiscard]] std::vector<OutletTerminals> outlet_terminals_beyond(const House& house,
                                                                   const Wiring& wiring,
                                                                   const Model& model,
                                                                   const Place& place);

}  // namespace evenleg
