#include "src/audit/worst_case.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <future>
#include <limits>

#include "src/audit/cloud.h"
#include "src/audit/every_choice.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// Volts or amperes that are nothing: what rounding leaves where the answer is exactly zero.
constexpr double kNothing = 1e-9;

// Tests of one certificate after which trying all choices is the quicker way, where there is one.
constexpr int kDearTests = 3000;

// Where a cable has more states than were listed, no bound is known.
template <class Quantity>
void withdraw_bounds(std::optional<Extreme<Quantity>>& highest,
                     std::optional<Extreme<Quantity>>* lowest = nullptr) {
  if (highest) {
    highest->proven = false;
    highest->bound = Quantity(std::numeric_limits<double>::infinity());
  }
  if (lowest != nullptr && *lowest && (*lowest)->value.si() > 0) {
    (*lowest)->proven = false;
    (*lowest)->bound = Quantity(0.0);
  }
}

double settled(double magnitude) { return magnitude < kNothing ? 0.0 : magnitude; }

double joint_states(const std::vector<Element>& elements) {
  double joint = 1;
  for (const Element& element : elements) joint *= static_cast<double>(element.states.size());
  return joint;
}

std::vector<int> states_that(const Element& element, bool joining) {
  std::vector<int> states;
  for (std::size_t s = 0; s < element.states.size(); ++s) {
    if (element.joins[s] == joining) states.push_back(static_cast<int>(s));
  }
  return states;
}

std::vector<int> both(const std::vector<int>& a, const std::vector<int>& b) {
  std::vector<int> common;
  std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(common));
  return common;
}

}  // namespace

struct WorstCase::Setting {
  std::optional<NeutralFault> fault;
  PanelSystem system;
  Equations equations;
  std::vector<Element> elements;
  bool complete = true;  // every element's states are all listed
};

WorstCase::WorstCase(const House& house, const Model& model, const WorstCaseOptions& options)
    : model_(model), options_(options), credible_(credible_states(house, model)),
      sound_(panel_system(model, std::nullopt)) {
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    elements_.push_back(
        make_element(model, sound_, credible_, static_cast<int>(c), std::nullopt));
  }
}

WorstCase::Setting WorstCase::setting_of(const std::optional<NeutralFault>& fault) const {
  Setting setting;
  setting.fault = fault;
  setting.system = panel_system(model_, fault);
  setting.equations = equations_of(setting.system, model_, fault);
  setting.elements = elements_;
  if (fault && in_cable(fault->place)) {
    setting.elements[at(fault->place.cable)] =
        make_element(model_, setting.system, credible_, fault->place.cable, fault);
  }
  for (const Element& element : setting.elements) {
    setting.complete = setting.complete && element.complete;
  }
  return setting;
}

std::vector<std::vector<int>> WorstCase::all_states(const std::vector<Element>& elements) const {
  std::vector<std::vector<int>> all;
  for (const Element& element : elements) {
    all.emplace_back(element.states.size());
    for (std::size_t s = 0; s < element.states.size(); ++s) all.back()[s] = static_cast<int>(s);
  }
  return all;
}

std::vector<int> WorstCase::loads_on(const std::vector<Element>& elements,
                                     const Choice& choice) const {
  std::vector<int> on;
  for (std::size_t n = 0; n < elements.size(); ++n) {
    const std::vector<int>& loads = model_.cables[at(elements[n].cable)].loads;
    const std::uint64_t bits = elements[n].states[at(choice[n])].on;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      if (i < 64 && (bits >> i & 1U) != 0) on.push_back(loads[i]);  // 64: the bits of `on`
    }
  }
  std::sort(on.begin(), on.end());
  return on;
}

template <class Quantity>
std::optional<Extreme<Quantity>> WorstCase::extreme(const std::vector<Problem>& cases, Goal goal,
                                                    const CertifyOptions& options,
                                                    std::optional<Choice>& warm) const {
  std::vector<std::optional<Found>> found;  // by case: a proof starts from a choice of its own case
  std::optional<Found> best;
  for (const Problem& problem : cases) {
    found.push_back(search(problem, goal, warm));
    const std::optional<Found>& here = found.back();
    if (here && (!best || improves(goal, here->magnitude, best->magnitude))) best = here;
  }
  if (!best) return std::nullopt;
  warm = best->choice;
  double bound = goal == Goal::Highest ? std::numeric_limits<double>::infinity() : 0.0;
  bool proven = goal == Goal::Lowest && best->magnitude < kNothing;
  if (options_.certify && !proven) {
    bound = best->magnitude;
    for (std::size_t c = 0; c < cases.size(); ++c) {
      if (!found[c]) continue;  // no credible choice
      const Certificate certificate = certify(cases[c], goal, *found[c], options);
      if (improves(goal, certificate.best.magnitude, best->magnitude)) best = certificate.best;
      bound = goal == Goal::Highest ? std::max(bound, certificate.bound)
                                    : std::min(bound, certificate.bound);
    }
    proven = std::abs(bound - best->magnitude) <= options_.certificate.proven_within;
  }
  Extreme<Quantity> result;
  result.value = Quantity(settled(best->magnitude));
  result.bound = Quantity(settled(bound));
  result.proven = proven;
  result.on = loads_on(*cases.front().elements, best->choice);
  return result;
}

Extremes<Volts> WorstCase::terminal_extremes(const Setting& setting, const Rows& rows,
                                             std::size_t index, std::size_t count,
                                             const Terminals& terminals,
                                             const CertifyOptions& certificate,
                                             std::optional<Choice>& warm_high,
                                             std::optional<Choice>& warm_low) const {
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  problem.own = terminals.cable;
  problem.shared_groups = credible_.shared_groups;
  problem.allowed = all_states(setting.elements);
  const Element& own = setting.elements[at(terminals.cable)];
  std::vector<int> fed;
  std::vector<int> unfed;
  for (std::size_t s = 0; s < own.states.size(); ++s) {
    const std::size_t row = s * count + index;
    for (std::size_t i = 0; i < rows.ports; ++i) {
      problem.tau.push_back(rows.tau[row * rows.ports + i]);
    }
    if (terminals.load >= 0) {
      const std::vector<int>& loads = model_.cables[at(terminals.cable)].loads;
      const auto bit = std::find(loads.begin(), loads.end(), terminals.load) - loads.begin();
      if (bit >= 64 || (own.states[s].on >> bit & 1U) == 0) continue;  // 64: the bits of `on`
    }
    (rows.fed[row] ? fed : unfed).push_back(static_cast<int>(s));
  }
  // A floating neutral that nothing joins feeds nothing: such states give 0 V and are kept apart, by
  // cases on which element is the first to join it.
  std::vector<Problem> cases;
  Problem rest = problem;
  const bool may_be_unjoined = setting.equations.bordered &&
                               setting.equations.g == Complex{} && terminals.load < 0;
  if (!may_be_unjoined) {
    problem.allowed[at(terminals.cable)] = fed;
    cases.push_back(problem);
    rest.allowed[at(terminals.cable)] = unfed;
  } else {
    for (std::size_t n = 0; n < setting.elements.size(); ++n) {
      const Element& element = setting.elements[n];
      if (element.ports.empty() ||
          setting.equations.b(element.ports.front()) == Complex{}) {
        continue;
      }
      Problem first = rest;
      first.allowed[n] = both(rest.allowed[n], states_that(element, true));
      rest.allowed[n] = both(rest.allowed[n], states_that(element, false));
      if (!first.allowed[n].empty()) cases.push_back(std::move(first));
      if (rest.allowed[n].empty()) break;
    }
  }
  Extremes<Volts> extremes;
  extremes.highest = extreme<Volts>(cases, Goal::Highest, certificate, warm_high);
  std::optional<Choice> dead;
  const bool no_rest = std::any_of(rest.allowed.begin(), rest.allowed.end(),
                                   [](const std::vector<int>& a) { return a.empty(); });
  if (!no_rest) dead = any_choice(rest);
  if (dead) {
    const Extreme<Volts> nothing{volts(0), volts(0), true, loads_on(setting.elements, *dead)};
    extremes.lowest = nothing;
    if (!extremes.highest) extremes.highest = nothing;
  } else {
    extremes.lowest = extreme<Volts>(cases, Goal::Lowest, certificate, warm_low);
  }
  if (!setting.complete) withdraw_bounds(extremes.highest, &extremes.lowest);
  return extremes;
}

void WorstCase::enumerate(const Setting& setting, const std::vector<Terminals>& terminals,
                          const std::vector<Rows>& rows,
                          std::vector<Extremes<Volts>>& extremes) const {
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  EveryChoice every(setting.equations, setting.elements);
  const Choice& choice = every.choice();
  std::vector<std::vector<std::size_t>> of_cable(setting.elements.size());
  for (std::size_t t = 0; t < terminals.size(); ++t) {
    of_cable[at(terminals[t].cable)].push_back(t);
  }
  for (bool more = true; more;) {
    if (groups_agree(setting.elements, choice)) {
      const bool joined = is_joined(problem, choice);
      const auto p = every.port_volts(joined);
      std::optional<std::vector<int>> on;
      for (std::size_t n = 0; n < choice.size(); ++n) {
        const Element& element = setting.elements[n];
        const CableState& state = element.states[at(choice[n])];
        const std::vector<int>& loads = model_.cables[at(element.cable)].loads;
        for (std::size_t i = 0; i < of_cable[n].size(); ++i) {
          const std::size_t t = of_cable[n][i];
          if (terminals[t].load >= 0) {
            const auto bit =
                std::find(loads.begin(), loads.end(), terminals[t].load) - loads.begin();
            if ((state.on >> bit & 1U) == 0) continue;
          }
          const std::size_t row = at(choice[n]) * of_cable[n].size() + i;
          Complex v{};
          for (std::size_t k = 0; k < rows[n].ports; ++k) {
            v += rows[n].tau[row * rows[n].ports + k] * p(element.ports[k]);
          }
          const bool fed = rows[n].fed[row] && joined;
          const double magnitude = fed ? settled(std::abs(v)) : 0.0;
          const auto take = [&](std::optional<Extreme<Volts>>& side, Goal goal) {
            if (side && !improves(goal, magnitude, side->value.si())) return;
            if (!on) on = loads_on(setting.elements, choice);
            side = Extreme<Volts>{volts(magnitude), volts(magnitude), true, *on};
          };
          take(extremes[t].highest, Goal::Highest);
          take(extremes[t].lowest, Goal::Lowest);
        }
      }
    }
    more = every.next();
  }
}

std::vector<Extremes<Volts>> WorstCase::terminals(const NeutralFault& fault,
                                                  const std::vector<Terminals>& terminals) {
  const Setting setting = setting_of(fault);
  std::vector<Extremes<Volts>> extremes(terminals.size());
  std::vector<std::vector<Terminals>> of_cable(setting.elements.size());
  std::vector<std::size_t> index;
  for (const Terminals& t : terminals) {
    index.push_back(of_cable[at(t.cable)].size());
    of_cable[at(t.cable)].push_back(t);
  }
  std::vector<Rows> rows(setting.elements.size());
  const double joint = joint_states(setting.elements);
  for (std::size_t n = 0; n < setting.elements.size(); ++n) {
    const bool here = in_cable(fault.place) && fault.place.cable == static_cast<int>(n);
    if (!of_cable[n].empty()) {
      rows[n] = terminal_rows(model_, setting.elements[n], of_cable[n],
                              here ? std::optional(fault) : std::nullopt);
    }
  }
  if (joint == 0) return extremes;
  const bool may_enumerate = setting.complete && setting.equations.e.size() <= EveryChoice::kMostPorts;
  if (may_enumerate && joint <= static_cast<double>(options_.enumerate_up_to)) {
    enumerate(setting, terminals, rows, extremes);
    return extremes;
  }
  // A house that can still be enumerated is, as soon as one certificate turns out to be dear.
  const bool may_give_up = may_enumerate && options_.certify &&
                           joint <= static_cast<double>(options_.enumerate_at_most);
  CertifyOptions certificate = options_.certificate;
  if (may_give_up) {
    certificate.most_tests = std::min(certificate.most_tests, kDearTests);
    certificate.may_widen = false;
  }
  std::atomic<bool> gave_up = false;
  // In two halves at once. The division does not depend on the machine, so neither does the answer.
  const auto work = [&](std::size_t from, std::size_t to) {
    std::optional<Choice> warm_high;
    std::optional<Choice> warm_low;
    for (std::size_t t = from; t < to && !gave_up; ++t) {
      const std::size_t n = at(terminals[t].cable);
      extremes[t] = terminal_extremes(setting, rows[n], index[t], of_cable[n].size(),
                                      terminals[t], certificate, warm_high, warm_low);
      const bool open = (extremes[t].highest && !extremes[t].highest->proven) ||
                        (extremes[t].lowest && !extremes[t].lowest->proven);
      if (may_give_up && open) gave_up = true;
    }
  };
  const std::size_t half = terminals.size() / 2;
  std::future<void> other = std::async(std::launch::async, work, half, terminals.size());
  work(0, half);
  other.get();
  if (gave_up) {
    extremes.assign(terminals.size(), {});
    enumerate(setting, terminals, rows, extremes);
  }
  return extremes;
}

std::optional<Extreme<Amps>> WorstCase::highest_amps(const Setting& setting,
                                                     const Problem& problem) const {
  const double joint = joint_states(setting.elements);
  if (joint == 0) return std::nullopt;
  if (!setting.complete || joint > static_cast<double>(options_.enumerate_up_to)) {
    std::optional<Choice> warm;
    auto result = extreme<Amps>({problem}, Goal::Highest, options_.certificate, warm);
    if (!setting.complete) withdraw_bounds(result);
    return result;
  }
  std::optional<Found> best;
  Choice choice(setting.elements.size(), 0);
  const std::vector<int> sizes = state_counts(setting.elements);
  do {
    if (!groups_agree(setting.elements, choice)) continue;
    const double magnitude = std::abs(value(problem, choice));
    if (!best || improves(Goal::Highest, magnitude, best->magnitude)) best = {choice, magnitude};
  } while (next_choice(sizes, choice));
  if (!best) return std::nullopt;
  const Amps amperes(settled(best->magnitude));
  return Extreme<Amps>{amperes, amperes, true, loads_on(setting.elements, best->choice)};
}

std::optional<Extreme<Amps>> WorstCase::neutral_amps(const Place& place) {
  if (in_cable(place)) return cable_neutral_amps(place.cable);
  Setting setting = setting_of(std::nullopt);
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  problem.allowed = all_states(setting.elements);
  problem.shared_groups = credible_.shared_groups;
  problem.w = Vector::Zero(setting.equations.e.size());
  for (std::size_t r = 0; r < setting.system.ports.size(); ++r) {
    const std::vector<int> path = path_to_source(model_, setting.system.ports[r].neutral_panel);
    if (std::find(path.begin(), path.end(), place.panel) != path.end()) {
      problem.w(static_cast<Eigen::Index>(r)) = 1;
    }
  }
  return highest_amps(setting, problem);
}

std::optional<Extreme<Amps>> WorstCase::cable_neutral_amps(int cable) {
  Setting setting = setting_of(std::nullopt);
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  problem.allowed = all_states(setting.elements);
  problem.shared_groups = credible_.shared_groups;
  problem.own = cable;
  problem.tau = neutral_rows(setting.elements[at(cable)]).tau;
  return highest_amps(setting, problem);
}

double WorstCase::panel_leg_volts(const NeutralFault& fault, int panel, int leg) {
  const Setting setting = setting_of(fault);
  Problem problem;
  problem.equations = &setting.equations;
  problem.elements = &setting.elements;
  problem.allowed = all_states(setting.elements);
  problem.shared_groups = credible_.shared_groups;
  problem.row = Vector::Zero(setting.equations.e.size());
  problem.row(find_port(setting.system.ports, {panel, leg, panel})) = 1;
  const auto found = search(problem, Goal::Highest, heaviest_choice(problem));
  return found ? found->magnitude : 0.0;
}

}  // namespace evenleg
