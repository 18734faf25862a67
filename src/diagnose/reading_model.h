// What an instrument would show at each reading, for given source volts and resistances of the
// wires.
//
// Parameters: E, the source's volts on the first leg (the other legs keep the ratio and angle that
// the supply describes), then the resistance of each wire of each point on the way to a reading.
// Reactances and other wires stay as the runs are described. Currents: those clamped in the
// reading, else the loads that were on, as constant admittances. A clamped leg of no known loads
// counts as in phase with its volts to neutral; known loads lend it their angle. Units: V, A, Ω.
#pragma once

#include <Eigen/Core>
#include <set>
#include <vector>

#include "src/diagnose/probes.h"
#include "src/diagnose/read_network.h"

namespace evenleg {

// A reading, the point that it was taken at, and what its known loads draw there.
struct PlacedReading {
  Reading reading;
  int point = 0;
  std::vector<Draw> draws;
};

// The volts of some probes, and how they move with each parameter (probes by parameters). Known
// loads move along as admittances; clamped currents stay what they are.
struct Linearized {
  Eigen::VectorXd volts;
  Eigen::MatrixXd slopes;
};

class ReadingModel {
 public:
  // Requires: all of them outlive it. Without the earth return the service's neutral is what the
  // meter sees of it: all ways back to the source together.
  ReadingModel(const House& house, const Model& model, const ReadPoints& points,
               bool with_earth_return);

  [[nodiscard]] Eigen::Index parameters() const { return count_; }
  // Of the resistance of that wire; E is parameter 0. Requires: the point is on the way to a
  // reading.
  [[nodiscard]] Eigen::Index parameter(int point, int wire) const;
  // As described: source volts, and the resistances of the conductor tables.
  [[nodiscard]] Eigen::VectorXd described() const;

  [[nodiscard]] PlacedReading place(const Reading& reading, int point) const;
  [[nodiscard]] ReadState state(const Eigen::VectorXd& parameters,
                                const PlacedReading& placed) const;
  // `placed` as numbered by Probe::reading.
  [[nodiscard]] Linearized linearize(const Eigen::VectorXd& parameters,
                                     const std::vector<PlacedReading>& placed,
                                     const std::vector<Probe>& probes) const;

 private:
  [[nodiscard]] PerWire ohms(const Eigen::VectorXd& parameters) const;
  [[nodiscard]] std::vector<Complex> source(double volts) const;
  [[nodiscard]] bool is_below(int point, int top) const;
  [[nodiscard]] std::set<int> ways_of(const std::vector<Probe>& probes,
                                      const std::vector<std::size_t>& chosen) const;
  [[nodiscard]] std::vector<Draw> known_draws(const Reading& reading) const;
  void add_cable(std::size_t cable, const std::vector<Complex>& siemens,
                 std::vector<Draw>& draws) const;
  // The draws of a reading: loads, and clamped currents as admittances that draw them.
  struct Settled {
    std::vector<Draw> loads, clamped;
  };
  [[nodiscard]] Settled settled_draws(const std::vector<Complex>& volts, const PerWire& ohms,
                                      const PlacedReading& placed) const;
  void clamp(const PlacedReading& placed, const ReadState& by_loads, const ReadState& now,
             std::vector<Draw>& draws) const;

  const House& house_;
  const Model& model_;
  const ReadPoints& points_;
  double earth_siemens_ = 0;
  std::vector<Eigen::Index> first_;  // of each point that is on the way to a reading
  Eigen::Index count_ = 1;
};

}  // namespace evenleg
