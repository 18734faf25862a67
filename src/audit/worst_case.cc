#include "src/audit/worst_case.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <limits>

#include "evenleg/base/index.h"
#include "src/audit/cloud.h"
#include "src/audit/every_choice.h"

namespace evenleg {

WorstCase::WorstCase(const House& house, const Model& model, const WorstCaseOptions& options)
    : model_(model), options_(options), credible_(credible_states(house, model)) {
  const PanelSystem system = panel_system(model, std::nullopt);
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    sound_.push_back(make_element(model, system, credible_, static_cast<int>(c), std::nullopt));
  }
}

Setting WorstCase::setting(const std::optional<NeutralFault>& fault) const {
  return setting_of(model_, credible_, sound_, fault);
}

std::unique_ptr<FaultCase> WorstCase::fault_case(const NeutralFault& fault,
                                                 std::vector<Terminals> terminals,
                                                 const FaultCase* like) const {
  return std::make_unique<FaultCase>(model_, credible_, setting(fault), std::move(terminals),
                                     options_, like);
}

std::vector<Extremes<Volts>> WorstCase::terminals(const NeutralFault& fault,
                                                  const std::vector<Terminals>& terminals) const {
  const std::unique_ptr<FaultCase> asked = fault_case(fault, terminals);
  asked->search();
  if (options_.certify && !asked->settled_by_search()) {
    const auto work = [&](std::size_t from, std::size_t to) {
      for (std::size_t t = from; t < to; ++t) asked->prove(t);
    };
    const std::size_t half = terminals.size() / 2;
    std::future<void> other = std::async(std::launch::async, work, half, terminals.size());
    work(0, half);
    other.get();
    asked->finish();
  }
  return asked->extremes();
}

Problem WorstCase::problem_of(const Setting& setting) const {
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  problem.allowed = all_states(setting.elements);
  problem.shared_groups = credible_.shared_groups;
  return problem;
}

std::optional<Extreme<Amps>> WorstCase::highest_amps(const Setting& setting,
                                                     const Problem& problem) const {
  const double joint = joint_states(setting.elements);
  if (joint == 0) return std::nullopt;
  std::optional<Found> best;
  double bound = std::numeric_limits<double>::infinity();
  bool proven = false;
  if (setting.complete && joint <= static_cast<double>(options_.enumerate_up_to)) {
    Choice choice(setting.elements.size(), 0);
    const std::vector<int> sizes = state_counts(setting.elements);
    do {
      if (!groups_agree(setting.elements, choice)) continue;
      const double magnitude = std::abs(value(problem, choice));
      if (!best || improves(Goal::Highest, magnitude, best->magnitude)) best = {choice, magnitude};
    } while (next_choice(sizes, choice));
    if (best) bound = best->magnitude;
    proven = true;
  } else {
    std::optional<Choice> warm;
    const CasesFound found = search_cases({problem}, Goal::Highest, warm);
    best = found.best;
    if (best && options_.certify && setting.complete) {
      const Certificate certificate =
          prove_cases({problem}, Goal::Highest, found, options_.certificate);
      best = certificate.best;
      bound = certificate.bound;
      proven = certificate.proven;
    }
  }
  if (!best) return std::nullopt;
  return Extreme<Amps>{amps(settled(best->magnitude)), amps(settled(bound)), proven,
                       loads_on(model_, setting.elements, best->choice)};
}

Vector WorstCase::returning_through(const Setting& setting, int panel) const {
  Vector w = Vector::Zero(setting.equations.e.size());
  for (std::size_t r = 0; r < setting.system.ports.size(); ++r) {
    const std::vector<int> path = path_to_source(model_, setting.system.ports[r].neutral_panel);
    if (std::find(path.begin(), path.end(), panel) != path.end()) {
      w(static_cast<Eigen::Index>(r)) = 1;
    }
  }
  return w;
}

std::optional<Extreme<Amps>> WorstCase::neutral_amps(const Place& place) const {
  if (in_cable(place)) return cable_neutral_amps(place.cable);
  const Setting sound = setting(std::nullopt);
  Problem problem = problem_of(sound);
  problem.w = returning_through(sound, place.panel);
  return highest_amps(sound, problem);
}

std::optional<Extreme<Amps>> WorstCase::cable_neutral_amps(int cable) const {
  const Setting sound = setting(std::nullopt);
  Problem problem = problem_of(sound);
  problem.own = cable;
  problem.tau = neutral_rows(sound.elements[at(cable)]).tau;
  return highest_amps(sound, problem);
}

std::optional<Extreme<Amps>> WorstCase::joint_amps(const NeutralFault& fault) const {
  const Setting loosened = setting(fault);
  Problem problem = problem_of(loosened);
  const Place& place = fault.place;
  if (in_cable(place)) {
    problem.own = place.cable;
    problem.tau = joint_rows(model_, loosened.elements[at(place.cable)], fault).tau;
  } else {
    problem.w = returning_through(loosened, place.panel);
    if (place.kind == PlaceKind::Service && model_.earth_return_ohms) {
      const double earth = *model_.earth_return_ohms;
      problem.w *= earth / (*service_neutral_ohms(model_, fault) + earth);
    }
  }
  return highest_amps(loosened, problem);
}

double WorstCase::panel_leg_volts(const NeutralFault& fault, int panel, int leg) const {
  const Setting opened = setting(fault);
  Problem problem = problem_of(opened);
  problem.row = Vector::Zero(opened.equations.e.size());
  problem.row(find_port(opened.system.ports, {panel, leg, panel})) = 1;
  const auto found = search(problem, Goal::Highest, heaviest_choice(problem));
  return found ? found->magnitude : 0.0;
}

}  // namespace evenleg
