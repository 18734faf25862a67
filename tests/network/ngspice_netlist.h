// A house as a netlist for ngspice, an established circuit simulator that shares no code with this
// program, and its answers read back.
//
// Alternating current analysis at one frequency. A series impedance R + jX is a resistor and an
// inductor; an admittance G + jB is a resistor beside a capacitor, whose capacitance is negative
// where B is (inductive): exact at that frequency, and open at direct current, where an inductor
// across an ideal source would leave ngspice's operating point without an answer. A conductor
// without impedance is a source of 0 V. The transformer is a star: its matrix Zs, with m off the
// diagonal and z on it, is z - m in each leg and m in the neutral between the star's center and the
// source's neutral.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tests/network/circuit_elements.h"

namespace evenleg {

// The nodes that some chain of elements joins to the source's neutral; the others are left out.
[[nodiscard]] std::vector<bool> joined_nodes(const CircuitElements& elements);

// Several circuits in one netlist, apart from each other but for the node of 0 V. At a harmonic
// `order` above 1 the analysis is at so many times the frequency, the sources are at rest, a load is
// the resistor in series with the inductor or capacitor that its admittance is at the fundamental, and
// what it draws besides is a current source.
[[nodiscard]] std::string netlist(const std::vector<CircuitElements>& circuits, int order = 1);

// Whether `ngspice` can be started here.
[[nodiscard]] bool has_ngspice();

struct SpiceFile {
  std::string name;
  std::string text;
};

// Each circuit as a file of its own and, first, the one that has them read and solved in turn; or
// only read, without `analysis`. For many circuits that is quicker than all in one netlist.
[[nodiscard]] std::vector<SpiceFile> netlists_in_turn(const std::vector<CircuitElements>& circuits,
                                                      bool analysis = true);

// All that `ngspice -b` prints on the first of the files. It runs as a process of its own, in a
// temporary folder that holds the files and is removed again.
[[nodiscard]] std::string run_ngspice(const std::vector<SpiceFile>& files);

// The volts of every node of every circuit, nothing for those left out or when ngspice gives none.
struct SpiceAnswer {
  std::vector<std::vector<std::optional<Complex>>> volts;  // [circuit][node]
  std::string output;                                      // all that ngspice printed
};
[[nodiscard]] SpiceAnswer read_ngspice(const std::vector<CircuitElements>& circuits,
                                       std::string output);
// Netlist, run and reading in one.
[[nodiscard]] SpiceAnswer ask_ngspice(const std::vector<CircuitElements>& circuits, int order = 1);

}  // namespace evenleg
