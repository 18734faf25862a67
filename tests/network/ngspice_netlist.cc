#include "tests/network/ngspice_netlist.h"

#include <fmt/format.h>

#include <charconv>
#include <cstdlib>
#include <filesystem>
#include <numeric>
#include <random>
#include <sstream>

#include "evenleg/base/files.h"
#include "evenleg/base/index.h"
#include "evenleg/units/phasor.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr double kHertz = 60;
const double kRadiansPerSecond = radians(360) * kHertz;  // a whole turn for each cycle

class Writer {
 public:
  explicit Writer(int order) : order_(order) {}

  void add(const CircuitElements& elements, std::size_t circuit) {
    circuit_ = circuit;
    const std::vector<bool> joined = joined_nodes(elements);
    add_source(elements);
    for (const ConductorElement& conductor : elements.conductors) {
      if (conductor.removed || !joined[at(conductor.from)]) continue;
      series(node(conductor.from), node(conductor.to), conductor.ohms);
    }
    for (const LoadElement& load : elements.loads) {
      const std::string from = node(load.from);
      const std::string to = node(load.to);
      if (load.drawn != Complex{}) {
        elements_ += fmt::format("I{} {} {} DC 0 AC {} {}\n", ++count_, from, to,
                                 std::abs(load.drawn), degrees(std::arg(load.drawn)));
      }
      if (load.siemens == Complex{}) continue;
      if (order_ == 1) {
        beside(from, to, load.siemens);
      } else {
        series(from, to, 1.0 / load.siemens);
      }
    }
  }

  [[nodiscard]] std::string text() const {
    return deck(fmt::format("ac lin 1 {0} {0}\nprint all\n", order_ * kHertz));
  }
  // With nothing to be done about it.
  [[nodiscard]] std::string circuit() const { return "* a house\n" + elements_ + ".end\n"; }
  // With `commands` to be followed, which then quits.
  [[nodiscard]] std::string deck(const std::string& commands) const {
    return "* houses\n" + elements_ + "\n.control\nset numdgt=15\nset width=200\n" + commands +
           "quit\n.endc\n.end\n";
  }

 private:
  std::string node(int n) const {
    return n == kSourceNeutral ? "0" : fmt::format("c{}n{}", circuit_, n);
  }
  std::string fresh_node() { return fmt::format("x{}", ++fresh_); }

  void element(char kind, const std::string& from, const std::string& to, double value) {
    elements_ += fmt::format("{}{} {} {} {}\n", kind, ++count_, from, to, value);
  }

  void series(const std::string& from, const std::string& to, Complex ohms) {
    if (ohms == Complex{}) {
      elements_ += fmt::format("V{} {} {} DC 0 AC 0\n", ++count_, from, to);
    } else if (ohms.imag() == 0) {
      element('R', from, to, ohms.real());
    } else if (ohms.real() == 0) {
      element('L', from, to, ohms.imag() / kRadiansPerSecond);
    } else if (order_ > 1 && ohms.imag() < 0) {
      const std::string middle = fresh_node();
      element('R', from, middle, ohms.real());
      element('C', middle, to, -1 / (ohms.imag() * kRadiansPerSecond));
    } else {
      const std::string middle = fresh_node();
      element('R', from, middle, ohms.real());
      element('L', middle, to, ohms.imag() / kRadiansPerSecond);
    }
  }

  void beside(const std::string& from, const std::string& to, Complex siemens) {
    element('R', from, to, 1 / siemens.real());
    if (siemens.imag() != 0) element('C', from, to, siemens.imag() / kRadiansPerSecond);
  }

  void add_source(const CircuitElements& elements) {
    const Matrix& z = elements.source_impedance;
    const std::string center = fresh_node();
    series("0", center, z(0, 1));
    for (std::size_t leg = 0; leg < elements.source.size(); ++leg) {
      const auto row = static_cast<Eigen::Index>(leg);
      const std::string ideal = fresh_node();
      elements_ +=
          fmt::format("V{} {} {} DC 0 AC {} {}\n", ++count_, ideal, center,
                      order_ == 1 ? std::abs(elements.source[leg]) : 0.0, degrees(std::arg(elements.source[leg])));
      series(ideal, node(elements.terminal[leg]), z(row, row) - z(0, 1));
    }
  }

  int order_;
  std::string elements_;
  std::size_t circuit_ = 0;
  int count_ = 0;
  int fresh_ = 0;
};

// "c2n17 = 1.18e+02,-3.5e+00": the circuit, node and volts of a line, if it is one of ours.
struct NodeLine {
  std::size_t circuit = 0;
  std::size_t node = 0;
  Complex volts{};
};
std::optional<NodeLine> node_line(const std::string& line) {
  NodeLine read;
  char c = 0;
  char n = 0;
  char comma = 0;
  std::string equals;
  double real = 0;
  double imaginary = 0;
  std::istringstream words(line);
  words.imbue(std::locale::classic());
  words >> c >> read.circuit >> n >> read.node >> equals >> real >> comma >> imaginary;
  if (!words || c != 'c' || n != 'n' || equals != "=" || comma != ',') return std::nullopt;
  read.volts = {real, imaginary};
  return read;
}

}  // namespace

std::vector<bool> joined_nodes(const CircuitElements& elements) {
  std::vector<std::vector<int>> next(at(elements.nodes));
  const auto join = [&](int a, int b) {
    next[at(a)].push_back(b);
    next[at(b)].push_back(a);
  };
  for (int terminal : elements.terminal) join(kSourceNeutral, terminal);
  for (const ConductorElement& conductor : elements.conductors) {
    if (!conductor.removed) join(conductor.from, conductor.to);
  }
  for (const LoadElement& load : elements.loads) {
    if (load.siemens != Complex{}) join(load.from, load.to);
  }
  std::vector<bool> joined(at(elements.nodes), false);
  std::vector<int> reached{kSourceNeutral};
  joined[kSourceNeutral] = true;
  while (!reached.empty()) {
    const int node = reached.back();
    reached.pop_back();
    for (int other : next[at(node)]) {
      if (joined[at(other)]) continue;
      joined[at(other)] = true;
      reached.push_back(other);
    }
  }
  return joined;
}

std::string netlist(const std::vector<CircuitElements>& circuits, int order) {
  Writer writer(order);
  for (std::size_t c = 0; c < circuits.size(); ++c) writer.add(circuits[c], c);
  return writer.text();
}

bool has_ngspice() { return std::system("ngspice --version > /dev/null 2>&1") == 0; }

std::vector<SpiceFile> netlists_in_turn(const std::vector<CircuitElements>& circuits,
                                        bool analysis) {
  std::string commands;
  std::vector<SpiceFile> files(1);
  for (std::size_t c = 0; c < circuits.size(); ++c) {
    Writer writer(1);
    writer.add(circuits[c], c);
    files.push_back({fmt::format("house{}.cir", c), writer.circuit()});
    commands += fmt::format("source {}\n", files.back().name);
    if (analysis) commands += fmt::format("ac lin 1 {0} {0}\nprint all\ndestroy all\n", kHertz);
    commands += "remcirc\n";
  }
  files.front() = {"all.cir", Writer(1).deck(commands)};
  return files;
}

std::string run_ngspice(const std::vector<SpiceFile>& files) {
  const fs::path folder =
      fs::temp_directory_path() / fmt::format("evenleg-ngspice-{:x}", std::random_device{}());
  fs::create_directories(folder);
  for (const SpiceFile& file : files) write_file(folder / file.name, file.text);
  const std::string command = fmt::format("cd '{}' && ngspice -b {} > answer.txt 2>&1",
                                          folder.string(), files.front().name);
  std::string output;
  // Its exit status says little (a run that ends by `quit` may give 1); the lines that it prints
  // say whether there is an answer.
  if (std::system(command.c_str()) == -1) output = "ngspice could not be started";
  if (fs::exists(folder / "answer.txt")) output += read_file(folder / "answer.txt");
  fs::remove_all(folder);
  return output;
}

SpiceAnswer read_ngspice(const std::vector<CircuitElements>& circuits, std::string output) {
  SpiceAnswer answer;
  answer.output = std::move(output);
  for (const CircuitElements& circuit : circuits) {
    answer.volts.emplace_back(at(circuit.nodes));
    answer.volts.back()[kSourceNeutral] = Complex{};
  }
  std::istringstream lines(answer.output);
  for (std::string line; std::getline(lines, line);) {
    const std::optional<NodeLine> read = node_line(line);
    if (!read || read->circuit >= circuits.size()) continue;
    if (read->node >= answer.volts[read->circuit].size()) continue;
    answer.volts[read->circuit][read->node] = read->volts;
  }
  return answer;
}

SpiceAnswer ask_ngspice(const std::vector<CircuitElements>& circuits, int order) {
  return read_ngspice(circuits, run_ngspice({{"houses.cir", netlist(circuits, order)}}));
}

}  // namespace evenleg
