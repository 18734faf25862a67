#include "src/audit/fault_case.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <limits>

#include "evenleg/base/index.h"
#include "src/audit/cloud.h"
#include "src/audit/every_choice.h"

namespace evenleg {
namespace {

// Volts or amperes that are nothing: what rounding leaves where the answer is exactly zero.
constexpr double kNothing = 1e-9;

// Tests of one certificate after which trying all choices is the quicker way, where there is one.
constexpr int kDearTests = 3000;

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

double no_bound(Goal goal) {
  return goal == Goal::Highest ? std::numeric_limits<double>::infinity() : 0.0;
}

}  // namespace

Setting setting_of(const Model& model, const Credible& credible, const Elements& sound,
                   const std::optional<NeutralFault>& fault) {
  Setting setting;
  setting.fault = fault;
  setting.system = panel_system(model, fault);
  setting.equations = equations_of(setting.system, model, fault);
  setting.elements = sound;
  if (fault && in_cable(fault->place)) {
    const int cable = fault->place.cable;
    setting.elements.replace(at(cable),
                             make_element(model, setting.system, credible, cable, fault));
  }
  for (const Element& element : setting.elements) {
    setting.complete = setting.complete && element.complete;
  }
  return setting;
}

double joint_states(const Elements& elements) {
  double joint = 1;
  for (const Element& element : elements) joint *= static_cast<double>(element.states.size());
  return joint;
}

std::vector<std::vector<int>> all_states(const Elements& elements) {
  std::vector<std::vector<int>> all;
  for (const Element& element : elements) {
    all.emplace_back(element.states.size());
    for (std::size_t s = 0; s < element.states.size(); ++s) all.back()[s] = static_cast<int>(s);
  }
  return all;
}

std::vector<int> loads_on(const Model& model, const Elements& elements, const Choice& choice) {
  std::vector<int> on;
  for (std::size_t n = 0; n < elements.size(); ++n) {
    const std::vector<int>& loads = model.cables[at(elements[n].cable)].loads;
    const std::uint64_t bits = elements[n].states[at(choice[n])].on;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      if (i < 64 && (bits >> i & 1U) != 0) on.push_back(loads[i]);  // 64: the bits of `on`
    }
  }
  std::sort(on.begin(), on.end());
  return on;
}

double settled(double magnitude) { return magnitude < kNothing ? 0.0 : magnitude; }

FaultCase::FaultCase(const Model& model, const Credible& credible, Setting setting,
                     std::vector<Terminals> terminals, const WorstCaseOptions& options,
                     const FaultCase* like)
    : model_(model), credible_(credible), setting_(std::move(setting)),
      terminals_(std::move(terminals)), options_(options), rows_in_(setting_.elements.size(), 0),
      answers_(terminals_.size()), extremes_(terminals_.size()) {
  std::vector<std::vector<Terminals>> of_cable(setting_.elements.size());
  for (const Terminals& t : terminals_) {
    row_of_.push_back(of_cable[at(t.cable)].size());
    of_cable[at(t.cable)].push_back(t);
  }
  const std::optional<NeutralFault>& fault = setting_.fault;
  const bool may_share = like != nullptr && fault && !in_cable(fault->place);
  std::vector<Rows> rows(setting_.elements.size());
  for (std::size_t n = 0; n < of_cable.size(); ++n) {
    rows_in_[n] = of_cable[n].size();
    if (of_cable[n].empty() || may_share) continue;
    const bool here = fault && in_cable(fault->place) && at(fault->place.cable) == n;
    rows[n] = terminal_rows(model, setting_.elements[n], of_cable[n],
                            here ? fault : std::nullopt);
  }
  rows_ = may_share ? like->rows_ : std::make_shared<const std::vector<Rows>>(std::move(rows));
}

bool FaultCase::is_on(std::size_t terminal, const CableState& state) const {
  const Terminals& t = terminals_[terminal];
  if (t.load < 0) return true;
  const std::vector<int>& loads = model_.cables[at(t.cable)].loads;
  const auto bit = std::find(loads.begin(), loads.end(), t.load) - loads.begin();
  return bit < 64 && (state.on >> bit & 1U) != 0;  // 64: the bits of `on`
}

bool FaultCase::may_enumerate(std::uint64_t up_to) const {
  return setting_.complete && setting_.equations.e.size() <= EveryChoice::kMostPorts &&
         joint_states(setting_.elements) <= static_cast<double>(up_to);
}

FaultCase::Cases FaultCase::cases_of(std::size_t terminal) const {
  const Terminals& seen = terminals_[terminal];
  const Rows& rows = (*rows_)[at(seen.cable)];
  const Element& own = setting_.elements[at(seen.cable)];
  Problem problem;
  problem.equations = &setting_.equations;
  problem.elements = &setting_.elements;
  problem.own = seen.cable;
  problem.shared_groups = credible_.shared_groups;
  problem.allowed = all_states(setting_.elements);
  std::vector<int> fed;
  std::vector<int> unfed;
  for (std::size_t s = 0; s < own.states.size(); ++s) {
    const std::size_t row = s * rows_in_[at(seen.cable)] + row_of_[terminal];
    const auto first = rows.tau.begin() + static_cast<std::ptrdiff_t>(row * rows.ports);
    problem.tau.insert(problem.tau.end(), first, first + static_cast<std::ptrdiff_t>(rows.ports));
    if (is_on(terminal, own.states[s])) {
      (rows.fed[row] ? fed : unfed).push_back(static_cast<int>(s));
    }
  }
  Cases cases;
  Problem rest = problem;
  // A floating neutral that nothing joins feeds nothing: such states give 0 V and are kept apart,
  // by cases on which element is the first to join it.
  const bool may_be_unjoined =
      setting_.equations.bordered && setting_.equations.g == Complex{} && seen.load < 0;
  if (!may_be_unjoined) {
    problem.allowed[at(seen.cable)] = std::move(fed);
    rest.allowed[at(seen.cable)] = std::move(unfed);
    cases.fed.push_back(std::move(problem));
  } else {
    for (std::size_t n = 0; n < setting_.elements.size(); ++n) {
      const Element& element = setting_.elements[n];
      if (element.ports.empty() ||
          setting_.equations.b(element.ports.front()) == Complex{}) {
        continue;
      }
      Problem first = rest;
      first.allowed[n] = both(rest.allowed[n], states_that(element, true));
      rest.allowed[n] = both(rest.allowed[n], states_that(element, false));
      if (!first.allowed[n].empty()) cases.fed.push_back(std::move(first));
      if (rest.allowed[n].empty()) break;
    }
  }
  const bool none = std::any_of(rest.allowed.begin(), rest.allowed.end(),
                                [](const std::vector<int>& states) { return states.empty(); });
  if (!none) cases.unfed = any_choice(rest);
  return cases;
}

void FaultCase::take(std::size_t terminal, Goal goal, const Found& found, double bound,
                     bool proven) {
  Extreme<Volts> extreme{volts(settled(found.magnitude)), volts(settled(bound)), proven,
                         loads_on(model_, setting_.elements, found.choice)};
  if (!setting_.complete && !(goal == Goal::Lowest && extreme.value.si() == 0)) {
    extreme.proven = false;  // more states than were listed: no bound is known
    extreme.bound = volts(no_bound(goal));
  }
  (goal == Goal::Highest ? extremes_[terminal].highest : extremes_[terminal].lowest) =
      std::move(extreme);
}

void FaultCase::search_side(std::size_t terminal, const Cases& cases, Goal goal, Warm& warm) {
  const bool high = goal == Goal::Highest;
  if (cases.unfed && !high) return take(terminal, goal, {*cases.unfed, 0.0}, 0.0, true);
  CasesFound& found = high ? answers_[terminal].highest : answers_[terminal].lowest;
  found = search_cases(cases.fed, goal, high ? warm.highest : warm.lowest);
  if (found.best) {
    const bool nothing = !high && found.best->magnitude < kNothing;
    take(terminal, goal, *found.best, no_bound(goal), nothing);
  } else if (cases.unfed) {
    take(terminal, goal, {*cases.unfed, 0.0}, 0.0, true);
  }
}

void FaultCase::search_each(std::size_t count,
                            const std::function<void(std::size_t, Warm&)>& search) {
  if (joint_states(setting_.elements) == 0) {
    enumerated_ = true;
    return;
  }
  if (may_enumerate(options_.enumerate_up_to)) return enumerate();
  // In two halves at once. The division does not depend on the machine, so neither does the answer.
  const auto range = [&](std::size_t from, std::size_t to) {
    Warm warm;
    for (std::size_t i = from; i < to; ++i) search(i, warm);
  };
  const std::size_t half = count / 2;
  std::future<void> other = std::async(std::launch::async, range, half, count);
  range(0, half);
  other.get();
}

void FaultCase::search() {
  search_each(size(), [this](std::size_t t, Warm& warm) {
    const Cases cases = cases_of(t);
    search_side(t, cases, Goal::Highest, warm);
    search_side(t, cases, Goal::Lowest, warm);
  });
}

void FaultCase::search(Goal goal, const std::vector<std::size_t>& which, const FaultCase& warm) {
  if (enumerated_) return;
  search_each(which.size(), [&](std::size_t i, Warm& start) {
    const std::size_t t = which[i];
    const Answer& before = warm.answers_[t];
    if (before.highest.best) start.highest = before.highest.best->choice;
    if (before.lowest.best) start.lowest = before.lowest.best->choice;
    search_side(t, cases_of(t), goal, start);
  });
}

CertifyOptions FaultCase::certificate_options() const {
  CertifyOptions options = options_.certificate;
  if (may_enumerate(options_.enumerate_at_most)) {
    options.most_tests = std::min(options.most_tests, kDearTests);
    options.may_widen = false;
  }
  return options;
}

void FaultCase::take_certified(std::size_t terminal, Goal goal, const Certificate& certificate) {
  auto& extreme = goal == Goal::Highest ? extremes_[terminal].highest : extremes_[terminal].lowest;
  const Extreme<Volts> known = *extreme;
  take(terminal, goal, certificate.best, certificate.bound, false);
  if (improves(goal, known.value.si(), extreme->value.si())) {
    extreme->value = known.value;
    extreme->on = known.on;
  }
  if (improves(goal, extreme->bound.si(), known.bound.si())) extreme->bound = known.bound;
  const double apart = std::abs((extreme->bound - extreme->value).si());
  extreme->proven = apart <= options_.certificate.proven_within;
}

void FaultCase::prove_side(std::size_t terminal, const Cases& cases, Goal goal) {
  const bool high = goal == Goal::Highest;
  const CasesFound& found = high ? answers_[terminal].highest : answers_[terminal].lowest;
  const auto& extreme = high ? extremes_[terminal].highest : extremes_[terminal].lowest;
  if (!found.best || !extreme || extreme->proven) return;
  const CertifyOptions options = certificate_options();
  const Certificate certificate = prove_cases(cases.fed, goal, found, options);
  take_certified(terminal, goal, certificate);
  if (!certificate.proven && may_enumerate(options_.enumerate_at_most)) dear_ = true;
}

void FaultCase::prove(std::size_t terminal) {
  if (enumerated_ || dear_) return;
  const Cases cases = cases_of(terminal);
  prove_side(terminal, cases, Goal::Highest);
  prove_side(terminal, cases, Goal::Lowest);
}

void FaultCase::finish() {
  if (dear_ && !enumerated_) enumerate();
}

bool FaultCase::prove_within(std::size_t terminal, Goal goal, double limit) {
  const bool high = goal == Goal::Highest;
  const auto& extreme = high ? extremes_[terminal].highest : extremes_[terminal].lowest;
  if (!extreme) return true;  // on in no credible state
  if (improves(goal, extreme->value.si(), limit)) return false;
  if (enumerated_ || extreme->proven || !improves(goal, extreme->bound.si(), limit)) return true;
  if (!setting_.complete) return false;
  CertifyOptions options = options_.certificate;
  options.enough = limit;
  const CasesFound& found = high ? answers_[terminal].highest : answers_[terminal].lowest;
  const Certificate certificate = prove_cases(cases_of(terminal).fed, goal, found, options);
  take_certified(terminal, goal, certificate);
  return !improves(goal, certificate.bound, limit);
}

void FaultCase::enumerate() {
  enumerated_ = true;
  extremes_.assign(size(), {});
  std::vector<std::vector<std::size_t>> of_element(setting_.elements.size());
  for (std::size_t t = 0; t < size(); ++t) of_element[at(terminals_[t].cable)].push_back(t);
  Problem problem;
  problem.equations = &setting_.equations;
  problem.elements = &setting_.elements;
  EveryChoice every(setting_.equations, setting_.elements);
  do {
    if (!groups_agree(setting_.elements, every.choice())) continue;
    const bool joined = is_joined(problem, every.choice());
    const auto p = every.port_volts(joined);
    for (std::size_t n = 0; n < of_element.size(); ++n) {
      for (std::size_t t : of_element[n]) {
        const auto state = at(every.choice()[n]);
        if (!is_on(t, setting_.elements[n].states[state])) continue;
        const Rows& rows = (*rows_)[n];
        const std::size_t row = state * rows_in_[n] + row_of_[t];
        Complex v{};
        for (std::size_t k = 0; k < rows.ports; ++k) {
          v += rows.tau[row * rows.ports + k] * p(setting_.elements[n].ports[k]);
        }
        const bool fed = rows.fed[row] && joined;
        take_if_further(t, every.choice(), fed ? settled(std::abs(v)) : 0.0);
      }
    }
  } while (every.next());
}

void FaultCase::take_if_further(std::size_t terminal, const Choice& choice, double magnitude) {
  const Extremes<Volts>& so_far = extremes_[terminal];
  for (const Goal goal : {Goal::Highest, Goal::Lowest}) {
    const auto& side = goal == Goal::Highest ? so_far.highest : so_far.lowest;
    if (side && !improves(goal, magnitude, side->value.si())) continue;
    take(terminal, goal, {choice, magnitude}, magnitude, true);
  }
}

}  // namespace evenleg
