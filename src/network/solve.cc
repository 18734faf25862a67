#include "evenleg/network/solve.h"

#include <algorithm>

#include "evenleg/base/index.h"
#include "evenleg/network/collapse.h"
#include "evenleg/network/panel_system.h"
#include "src/network/finish.h"
#include "src/network/residual.h"

namespace evenleg {
namespace {

std::vector<CableReduction> reduce_all(const Model& model, const std::vector<Complex>& y,
                                       const std::optional<NeutralFault>& fault) {
  std::vector<CableReduction> reductions;
  reductions.reserve(model.cables.size());
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    const bool here = fault && fault->place.cable == static_cast<int>(c);
    reductions.emplace_back(model.cables[c], model.loads, y, here ? fault : std::nullopt);
  }
  return reductions;
}

// Some load that is on joins the neutral beyond the removed service or feeder neutral.
bool any_joined(const Model& model, const PanelSystem& system,
                const std::vector<CableReduction>& reductions) {
  for (std::size_t c = 0; c < reductions.size(); ++c) {
    if (model.cables[c].hots.empty() || !reductions[c].reaches_neutral()) continue;
    if (system.beyond(system.cable_ports[c].front()) != Complex{}) return true;
  }
  return false;
}

// Potentials of the panels' buses from the ports' volts: down from the source, run by run.
void fill_panels(const Model& model, const PanelSystem& system, const PanelVolts& volts,
                 const std::optional<NeutralFault>& fault, Solution& solution) {
  const std::size_t count = model.panels.size();
  solution.panels.resize(count);
  for (std::size_t p = 0; p < count; ++p) {
    PanelState& state = solution.panels[p];
    state.hot_amps.assign(model.panels[p].legs.size(), {});
    state.hot.resize(model.panels[p].legs.size());
  }
  for (std::size_t r = 0; r < system.ports.size(); ++r) {
    const Port& port = system.ports[r];
    const Complex amps = volts.i(static_cast<Eigen::Index>(r));
    for (int panel : path_to_source(model, port.panel)) {
      const std::vector<int>& legs = model.panels[at(panel)].legs;
      const auto leg = std::find(legs.begin(), legs.end(), port.leg) - legs.begin();
      solution.panels[at(panel)].hot_amps[static_cast<std::size_t>(leg)] += amps;
    }
    for (int panel : path_to_source(model, port.neutral_panel)) {
      solution.panels[at(panel)].neutral_amps += amps;
    }
  }
  for (std::size_t p = 0; p < count; ++p) {
    PanelState& state = solution.panels[p];
    for (int panel : path_to_source(model, static_cast<int>(p))) {
      state.neutral += system.neutral_ohms[at(panel)] * solution.panels[at(panel)].neutral_amps;
      const bool removed = system.floating && fault && !in_cable(fault->place) &&
                           fault->place.panel == panel;
      if (!removed) continue;
      state.neutral += volts.displacement;
      state.isolated = volts.isolated;
    }
    for (std::size_t leg = 0; leg < state.hot.size(); ++leg) {
      const int panel = static_cast<int>(p);
      const int port = find_port(system.ports, {panel, model.panels[p].legs[leg], panel});
      state.hot[leg] = volts.p(port) + state.neutral;
    }
  }
}

void fill_boxes(const Model& model, const PanelSystem& system, const PanelVolts& volts,
                const std::vector<CableReduction>& reductions, Solution& solution) {
  solution.boxes.resize(model.cables.size());
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    const CableModel& cable = model.cables[c];
    CableVector p(static_cast<Eigen::Index>(cable.hots.size()));
    for (std::size_t h = 0; h < cable.hots.size(); ++h) {
      p(static_cast<Eigen::Index>(h)) = volts.p(system.cable_ports[c][h]);
    }
    const PanelState& panel = solution.panels[at(cable.neutral_panel)];
    for (const BoxVolts& box : reductions[c].expand(p)) {
      BoxState state;
      state.neutral = panel.neutral + box.neutral_rise;
      state.isolated = panel.isolated || box.isolated;
      for (Eigen::Index h = 0; h < p.size(); ++h) {
        state.hot.push_back(box.hot_to_neutral(h) + state.neutral);
      }
      solution.boxes[c].push_back(std::move(state));
    }
  }
}

}  // namespace

std::string_view sentence(SolveStatus status) {
  switch (status) {
    case SolveStatus::NotRun: return "The network was not solved.";
    case SolveStatus::Solved: return "The network was solved.";
    case SolveStatus::Singular: return "The network's equations have no single answer.";
    case SolveStatus::Inaccurate: return "The network's answer does not hold its own equations.";
  }
  return "";
}

Solution solve(const Model& model, const std::vector<Complex>& load_admittances,
               const std::optional<NeutralFault>& fault) {
  Solution solution;
  const PanelSystem system = panel_system(model, fault);
  const std::vector<CableReduction> reductions = reduce_all(model, load_admittances, fault);
  Matrix y = Matrix::Zero(system.e.size(), system.e.size());
  for (std::size_t c = 0; c < reductions.size(); ++c) {
    const CableMatrix& cable = reductions[c].admittance();
    const std::vector<int>& ports = system.cable_ports[c];
    for (std::size_t a = 0; a < ports.size(); ++a) {
      for (std::size_t b = 0; b < ports.size(); ++b) {
        y(ports[a], ports[b]) +=
            cable(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
      }
    }
  }
  const PanelVolts volts = solve_panels(system, y, any_joined(model, system, reductions));
  solution.status = volts.solved ? SolveStatus::Solved : SolveStatus::Singular;
  fill_panels(model, system, volts, fault, solution);
  fill_boxes(model, system, volts, reductions, solution);
  fill_loads(model, load_admittances, {}, solution);
  const Complex service = solution.panels.front().neutral_amps;
  split_service_neutral(model, fault, service, solution);
  judge_residual(model, load_admittances, fault, solution);
  return solution;
}

}  // namespace evenleg
