#include "tests/balance/external_solver.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "evenleg/base/files.h"
#include "evenleg/base/index.h"

namespace evenleg {
namespace {

struct Variable {
  std::vector<std::size_t> circuits;  // that change leg together
};

std::string term(double factor, std::size_t variable) {
  return fmt::format(" {} {:.10f} x{}", factor < 0 ? "-" : "+", std::abs(factor), variable);
}

}  // namespace

std::string as_programme(const House& house, const Tables& tables, int moves) {
  const Vocabulary words = vocabulary(tables);
  const Wiring wiring = wire(house, *find_system(words, house.supply.system));
  const std::vector<CircuitLoads> loads = circuit_loads(house, wiring, tables);
  std::vector<bool> shared(house.circuits.size(), false);
  std::vector<Variable> variables;
  for (const Multiwire& multiwire : house.multiwires) {
    Variable pair;
    bool locked = false;
    for (std::size_t c = 0; c < house.circuits.size(); ++c) {
      const auto& names = multiwire.circuits;
      if (std::count(names.begin(), names.end(), house.circuits[c].name) == 0) continue;
      pair.circuits.push_back(c);
      shared[c] = true;
      locked = locked || house.circuits[c].locked;
    }
    if (!locked) variables.push_back(std::move(pair));
  }
  std::vector<int> on_leg(2, 0), spaces(2, 0);
  std::vector<int> fixed_on(2, 0);
  for (int space = 1; space <= house.panels[0].spaces; ++space) ++spaces[at((space - 1) / 2 % 2)];
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    if (house.circuits[c].poles == 2) {
      --spaces[0];
      --spaces[1];
    } else if (shared[c] || house.circuits[c].locked) {
      --spaces[at(wiring.circuit_legs[c][0])];
    } else {
      ++on_leg[at(wiring.circuit_legs[c][0])];
      variables.push_back({{c}});
    }
  }
  std::string text = "Minimize\n obj: t\nSubject To\n";
  std::string count = " moves:";
  std::string seats = " seats:";
  for (std::size_t v = 0; v < variables.size(); ++v) {
    count += term(static_cast<double>(variables[v].circuits.size()), v);
    if (variables[v].circuits.size() > 1) continue;
    const bool leaves_first = wiring.circuit_legs[variables[v].circuits[0]][0] == 0;
    seats += term(leaves_first ? 1 : -1, v);  // net from L1 to L2
  }
  for (std::size_t s = 0; s < loads.size(); ++s) {
    double apart = 0;
    for (std::size_t c = 0; c < house.circuits.size(); ++c) {
      for (std::size_t pole = 0; pole < loads[s].amps[c].size(); ++pole) {
        apart += (wiring.circuit_legs[c][pole] == 0 ? 1 : -1) * loads[s].amps[c][pole];
      }
    }
    std::string sum;
    for (std::size_t v = 0; v < variables.size(); ++v) {
      double change = 0;
      for (std::size_t c : variables[v].circuits) {
        change += (wiring.circuit_legs[c][0] == 0 ? -2 : 2) * loads[s].amps[c][0];
      }
      sum += term(change, v);
    }
    text += fmt::format(" high{}:{} - t <= {:.10f}\n", s, sum, -apart);
    text += fmt::format(" low{}:{} + t >= {:.10f}\n", s, sum, -apart);
  }
  text += count + fmt::format(" <= {}\n", moves);
  if (seats != " seats:") {
    text += seats + fmt::format(" <= {}\n", spaces[1] - on_leg[1]);
    text += " back" + seats.substr(1) + fmt::format(" >= {}\n", on_leg[0] - spaces[0]);
  }
  text += "Bounds\n t >= 0\nBinaries\n";
  for (std::size_t v = 0; v < variables.size(); ++v) text += fmt::format(" x{}\n", v);
  return text + "End\n";
}

bool has_cbc() { return std::system("command -v cbc >/dev/null 2>&1") == 0; }

std::optional<double> solve_with_cbc(const std::string& programme) {
  if (!has_cbc()) return std::nullopt;
  char folder[] = "/tmp/evenleg-cbc-XXXXXX";
  if (mkdtemp(folder) == nullptr) throw std::runtime_error("no folder for the external solver");
  const std::filesystem::path path(folder);
  std::ofstream(path / "plan.lp") << programme;
  const std::string command =
      fmt::format("cd {} && cbc plan.lp ratio 0 allow 0 solve solution answer.txt >log.txt 2>&1",
                  folder);
  const bool ran = std::system(command.c_str()) == 0;
  std::string answer;
  if (ran) std::getline(std::ifstream(path / "answer.txt"), answer);
  std::filesystem::remove_all(path);
  const std::size_t value = answer.find("objective value");
  if (answer.rfind("Optimal", 0) != 0 || value == std::string::npos) {
    throw std::runtime_error("the external solver found no optimum: " + answer);
  }
  return std::stod(answer.substr(value + std::string("objective value").size()));
}

}  // namespace evenleg
