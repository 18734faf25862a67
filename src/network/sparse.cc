#include <Eigen/LU>
#include <Eigen/SparseLU>
#include <algorithm>
#include <numeric>

#include "evenleg/base/index.h"
#include "evenleg/network/panel_system.h"
#include "evenleg/network/solve.h"
#include "src/network/drawn.h"
#include "src/network/finish.h"
#include "src/network/residual.h"

namespace evenleg {
namespace {

// Nodes before merging: the source's legs and neutral, then panels' buses, then boxes' conductors.
struct Numbering {
  int source_neutral = 0;
  std::vector<int> source_leg;    // ideal, behind Zs
  std::vector<int> terminal_leg;  // after Zs
  std::vector<std::vector<int>> panel_hot;
  std::vector<int> panel_neutral;
  std::vector<std::vector<std::vector<int>>> box_hot;  // [cable][box][hot]
  std::vector<std::vector<int>> box_neutral;
  int count = 0;
};

Numbering number(const Model& model) {
  Numbering n;
  const auto fresh = [&n] { return n.count++; };
  n.source_neutral = fresh();
  for (std::size_t leg = 0; leg < model.source.size(); ++leg) n.source_leg.push_back(fresh());
  for (std::size_t leg = 0; leg < model.source.size(); ++leg) n.terminal_leg.push_back(fresh());
  for (const PanelModel& panel : model.panels) {
    n.panel_hot.emplace_back();
    for (std::size_t leg = 0; leg < panel.legs.size(); ++leg) {
      n.panel_hot.back().push_back(fresh());
    }
    n.panel_neutral.push_back(fresh());
  }
  for (const CableModel& cable : model.cables) {
    n.box_hot.emplace_back();
    n.box_neutral.emplace_back();
    for (const BoxModel& box : cable.boxes) {
      n.box_hot.back().emplace_back(cable.hots.size(), -1);
      for (int h : box.hots) n.box_hot.back().back()[at(h)] = fresh();
      n.box_neutral.back().push_back(fresh());
    }
  }
  return n;
}

struct Branch {
  int from = 0;
  int to = 0;
  Complex admittance{};
};

// A current from one node to another, whatever their volts.
struct CurrentSource {
  int from = 0;
  int to = 0;
  Complex amps{};
};

// The circuit as branches between merged nodes; nodes are their own parents in `merged` at first.
struct Branches {
  std::vector<int> merged;
  std::vector<Branch> branches;
  std::vector<CurrentSource> sources;

  int root(int node) {
    while (merged[at(node)] != node) node = merged[at(node)] = merged[at(merged[at(node)])];
    return node;
  }
  void connect(int from, int to, Complex ohms) {
    if (ohms == Complex{}) {
      merged[at(root(from))] = root(to);
    } else {
      branches.push_back({from, to, 1.0 / ohms});
    }
  }
};

bool opens(const std::optional<NeutralFault>& fault) {
  return fault && fault->added_ohms == kOpen;
}

void connect_panels(const Model& model, const Numbering& n,
                    const std::optional<NeutralFault>& fault, Branches& circuit) {
  for (std::size_t p = 0; p < model.panels.size(); ++p) {
    const PanelModel& panel = model.panels[p];
    for (std::size_t l = 0; l < panel.legs.size(); ++l) {
      int upstream = n.terminal_leg[at(panel.legs[l])];
      if (panel.fed_from >= 0) {
        const std::vector<int>& legs = model.panels[at(panel.fed_from)].legs;
        const auto found = std::find(legs.begin(), legs.end(), panel.legs[l]) - legs.begin();
        upstream = n.panel_hot[at(panel.fed_from)][static_cast<std::size_t>(found)];
      }
      circuit.connect(upstream, n.panel_hot[p][l], panel.run.hot);
    }
    const int upstream = panel.fed_from < 0 ? n.source_neutral : n.panel_neutral[at(panel.fed_from)];
    const bool here =
        fault && !in_cable(fault->place) && fault->place.panel == static_cast<int>(p);
    if (!(here && opens(fault))) {
      circuit.connect(upstream, n.panel_neutral[p],
                      panel.run.neutral + (here ? fault->added_ohms : 0.0));
    }
    if (p == 0 && model.earth_return_ohms) {
      circuit.connect(n.source_neutral, n.panel_neutral[p], *model.earth_return_ohms);
    }
  }
}

void connect_cables(const Model& model, const Numbering& n,
                    const std::optional<NeutralFault>& fault, Branches& circuit) {
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    const CableModel& cable = model.cables[c];
    for (std::size_t h = 0; h < cable.hots.size(); ++h) {
      const Hot& hot = cable.hots[h];
      const std::vector<int>& legs = model.panels[at(hot.panel)].legs;
      const auto leg = std::find(legs.begin(), legs.end(), hot.leg) - legs.begin();
      circuit.connect(n.panel_hot[at(hot.panel)][static_cast<std::size_t>(leg)],
                      n.box_hot[c][0][h], {});
    }
    circuit.connect(n.panel_neutral[at(cable.neutral_panel)], n.box_neutral[c][0], {});
    for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
      const BoxModel& box = cable.boxes[b];
      for (int h : box.hots) {
        circuit.connect(n.box_hot[c][at(box.upstream)][at(h)], n.box_hot[c][b][at(h)],
                        box.run.hot);
      }
      const bool here = fault && fault->place.cable == static_cast<int>(c) &&
                        fault->place.box == static_cast<int>(b);
      if (here && opens(fault)) continue;
      circuit.connect(n.box_neutral[c][at(box.upstream)], n.box_neutral[c][b],
                      box.run.neutral + (here ? fault->added_ohms : 0.0));
    }
  }
}

void connect_loads_and_source(const Model& model, const Numbering& n,
                              const std::vector<Complex>& y, const std::vector<Complex>& drawn,
                              Branches& circuit) {
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    const std::vector<int>& hots = n.box_hot[at(load.cable)][at(load.box)];
    const int to = load.to == kNeutral ? n.box_neutral[at(load.cable)][at(load.box)]
                                       : hots[at(load.to)];
    if (y[l] != Complex{}) circuit.branches.push_back({hots[at(load.from)], to, y[l]});
    if (!drawn.empty() && drawn[l] != Complex{}) {
      circuit.sources.push_back({hots[at(load.from)], to, drawn[l]});
    }
  }
  if (!model.source_impedance.isZero(0)) return;
  for (std::size_t leg = 0; leg < model.source.size(); ++leg) {
    circuit.connect(n.source_leg[leg], n.terminal_leg[leg], {});
  }
}

struct Potentials {
  std::vector<Complex> volts;   // by node before merging
  std::vector<bool> isolated;   // no branch leads to the source
  bool solved = true;
};

// Which merged nodes a chain of branches joins to the source.
std::vector<bool> joined_to_source(const Model& model, const Numbering& n, Branches& circuit) {
  std::vector<int> group(circuit.merged.size());
  std::iota(group.begin(), group.end(), 0);
  const auto root = [&](int node) {
    while (group[at(node)] != node) node = group[at(node)] = group[at(group[at(node)])];
    return node;
  };
  const auto join = [&](int a, int b) { group[at(root(a))] = root(b); };
  for (const Branch& branch : circuit.branches) {
    join(circuit.root(branch.from), circuit.root(branch.to));
  }
  for (std::size_t leg = 0; leg < model.source.size(); ++leg) {
    join(circuit.root(n.source_leg[leg]), circuit.root(n.source_neutral));
    join(circuit.root(n.terminal_leg[leg]), circuit.root(n.source_neutral));
  }
  std::vector<bool> joined(circuit.merged.size());
  for (std::size_t i = 0; i < joined.size(); ++i) {
    joined[i] = root(circuit.root(static_cast<int>(i))) == root(circuit.root(n.source_neutral));
  }
  return joined;
}

Potentials solve_nodal(const Model& model, const Numbering& n, Branches& circuit) {
  Potentials result;
  result.volts.assign(circuit.merged.size(), {});
  const std::vector<bool> joined = joined_to_source(model, n, circuit);
  std::vector<std::optional<Complex>> fixed(circuit.merged.size());
  fixed[at(circuit.root(n.source_neutral))] = Complex{};
  for (std::size_t leg = 0; leg < model.source.size(); ++leg) {
    fixed[at(circuit.root(n.source_leg[leg]))] = model.source[leg];
  }
  std::vector<int> unknown(circuit.merged.size(), -1);
  int count = 0;
  for (std::size_t i = 0; i < unknown.size(); ++i) {
    const bool own = circuit.root(static_cast<int>(i)) == static_cast<int>(i);
    if (own && !fixed[i] && joined[i]) unknown[i] = count++;
  }
  std::vector<Eigen::Triplet<Complex>> entries;
  Vector injected = Vector::Zero(count);
  const auto add = [&](int row_node, int column_node, Complex admittance) {
    const int row = unknown[at(row_node)];
    if (row < 0) return;
    if (fixed[at(column_node)]) {
      injected(row) -= admittance * *fixed[at(column_node)];
    } else if (unknown[at(column_node)] >= 0) {
      entries.emplace_back(row, unknown[at(column_node)], admittance);
    }
  };
  const auto add_branch = [&](int from, int to, Complex admittance) {
    if (from == to) return;
    add(from, from, admittance);
    add(from, to, -admittance);
    add(to, to, admittance);
    add(to, from, -admittance);
  };
  for (const CurrentSource& source : circuit.sources) {
    const int from = unknown[at(circuit.root(source.from))];
    const int to = unknown[at(circuit.root(source.to))];
    if (from >= 0) injected(from) -= source.amps;
    if (to >= 0) injected(to) += source.amps;
  }
  for (const Branch& branch : circuit.branches) {
    add_branch(circuit.root(branch.from), circuit.root(branch.to), branch.admittance);
  }
  if (!model.source_impedance.isZero(0)) {
    // i = Zs^-1 (E - v) into the terminals: admittances between each leg's ideal and real terminal,
    // with the mutual terms between legs.
    const Matrix y = model.source_impedance.inverse();
    for (std::size_t a = 0; a < model.source.size(); ++a) {
      for (std::size_t b = 0; b < model.source.size(); ++b) {
        const Complex ab = y(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
        add(circuit.root(n.terminal_leg[a]), circuit.root(n.terminal_leg[b]), ab);
        add(circuit.root(n.terminal_leg[a]), circuit.root(n.source_leg[b]), -ab);
      }
    }
  }
  if (count > 0) {
    Eigen::SparseMatrix<Complex> y(count, count);
    y.setFromTriplets(entries.begin(), entries.end());
    Eigen::SparseLU<Eigen::SparseMatrix<Complex>> lu(y);
    result.solved = lu.info() == Eigen::Success;
    if (result.solved) {
      const Vector v = lu.solve(injected);
      result.solved = v.allFinite();
      for (std::size_t i = 0; i < unknown.size(); ++i) {
        if (unknown[i] >= 0) result.volts[i] = v(unknown[i]);
      }
    }
  }
  result.isolated.resize(circuit.merged.size());
  std::vector<Complex> by_root = result.volts;
  for (std::size_t i = 0; i < unknown.size(); ++i) {
    const std::size_t root = at(circuit.root(static_cast<int>(i)));
    result.volts[i] = fixed[root] ? *fixed[root] : by_root[root];
    result.isolated[i] = !joined[i];
  }
  return result;
}

// Currents of the panels' runs, from the cables up: what each load draws, by leg and neutral.
void fill_run_amps(const Model& model, Solution& solution) {
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    const CableModel& cable = model.cables[at(load.cable)];
    const auto add_hot = [&](int hot, Complex amps) {
      for (int panel : path_to_source(model, cable.hots[at(hot)].panel)) {
        const std::vector<int>& legs = model.panels[at(panel)].legs;
        const auto leg = std::find(legs.begin(), legs.end(), cable.hots[at(hot)].leg);
        solution.panels[at(panel)].hot_amps[static_cast<std::size_t>(leg - legs.begin())] += amps;
      }
    };
    add_hot(load.from, solution.load_amps[l]);
    if (load.to != kNeutral) {
      add_hot(load.to, -solution.load_amps[l]);
    } else {
      for (int panel : path_to_source(model, cable.neutral_panel)) {
        solution.panels[at(panel)].neutral_amps += solution.load_amps[l];
      }
    }
  }
}

}  // namespace

Solution solve_sparse(const Model& model, const std::vector<Complex>& load_admittances,
                      const std::optional<NeutralFault>& fault) {
  return solve_drawn(model, load_admittances, {}, fault);
}

Solution solve_drawn(const Model& model, const std::vector<Complex>& load_admittances,
                     const std::vector<Complex>& drawn, const std::optional<NeutralFault>& fault) {
  const Numbering n = number(model);
  Branches circuit;
  circuit.merged.resize(at(n.count));
  std::iota(circuit.merged.begin(), circuit.merged.end(), 0);
  connect_panels(model, n, fault, circuit);
  connect_cables(model, n, fault, circuit);
  connect_loads_and_source(model, n, load_admittances, drawn, circuit);
  const Potentials found = solve_nodal(model, n, circuit);

  Solution solution;
  solution.status = found.solved ? SolveStatus::Solved : SolveStatus::Singular;
  for (std::size_t p = 0; p < model.panels.size(); ++p) {
    PanelState state;
    for (int node : n.panel_hot[p]) state.hot.push_back(found.volts[at(node)]);
    state.hot_amps.assign(state.hot.size(), {});
    state.neutral = found.volts[at(n.panel_neutral[p])];
    state.isolated = found.isolated[at(n.panel_neutral[p])];
    solution.panels.push_back(std::move(state));
  }
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    solution.boxes.emplace_back();
    for (std::size_t b = 0; b < model.cables[c].boxes.size(); ++b) {
      BoxState state;
      for (int node : n.box_hot[c][b]) {
        state.hot.push_back(node < 0 ? Complex{} : found.volts[at(node)]);
      }
      state.neutral = found.volts[at(n.box_neutral[c][b])];
      state.isolated = found.isolated[at(n.box_neutral[c][b])];
      solution.boxes[c].push_back(std::move(state));
    }
  }
  fill_loads(model, load_admittances, drawn, solution);
  fill_run_amps(model, solution);
  split_service_neutral(model, fault, solution.panels.front().neutral_amps, solution);
  judge_residual(model, load_admittances, fault, solution);
  return solution;
}

}  // namespace evenleg
