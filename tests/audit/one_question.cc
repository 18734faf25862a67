#include "tests/audit/one_question.h"

#include "evenleg/base/index.h"
#include "src/audit/cloud.h"

namespace evenleg {

std::unique_ptr<Question> question_about(const BuiltHouse& house, const Credible& credible,
                                         const Place& place, int load) {
  auto question = std::make_unique<Question>();
  const NeutralFault fault{place};
  const PanelSystem system = panel_system(house.model, fault);
  question->equations = equations_of(system, house.model, fault);
  for (std::size_t c = 0; c < house.model.cables.size(); ++c) {
    question->elements.push_back(
        make_element(house.model, system, credible, static_cast<int>(c), std::nullopt));
    if (question->elements.back().states.empty()) return nullptr;
  }
  const LoadModel& seen = house.model.loads[at(load)];
  Problem& problem = question->problem;
  problem.equations = &question->equations;
  problem.elements = &question->elements;
  problem.own = seen.cable;
  problem.tau = terminal_rows(house.model, question->elements[at(seen.cable)],
                              {{seen.cable, seen.box, seen.from, seen.to, load}}, std::nullopt)
                    .tau;
  problem.shared_groups = credible.shared_groups;
  for (const Element& element : question->elements) {
    std::vector<int>& all = problem.allowed.emplace_back();
    for (std::size_t s = 0; s < element.states.size(); ++s) all.push_back(static_cast<int>(s));
  }
  return question;
}

Choice any_states(const Problem& problem, Dice& dice) {
  Choice choice;
  for (const std::vector<int>& allowed : problem.allowed) choice.push_back(dice.pick(allowed));
  return choice;
}

std::vector<Complex> sums_of(const Problem& problem, const Totals& totals, const Choice& choice) {
  std::vector<Complex> sums(totals.size());
  std::vector<Complex> features;
  for (std::size_t n = 0; n < choice.size(); ++n) {
    features_of(problem, n, choice[n], features);
    for (std::size_t f = 0; f < features.size(); ++f) {
      sums[at(totals.of_element[n][f])] += features[f];
    }
  }
  return sums;
}

}  // namespace evenleg
