// The house seen from a neutral that is opened, and from the loads whose law matters there.
//
// The wiring is a tree, so each load's current has one way there and back. With I the currents of
// all loads that are on, d the volts by which the break's far end stands over its near end, b
// marking the loads whose return crosses it,
//   V = E - Z I - k b d,     J = k bᵀ I - g d,
// Z[k,l] the impedance that the ways of k and l share (signed), J the amperes back through the
// broken conductor. An earth return R beside a service neutral z gives k = R / (z + R), g = 1 / (z
// + R); otherwise k = 1, g = 0. The loads that are constant impedances, and all that do not return
// through the break, are eliminated once; what is left are the *ports*, each a load with a law:
//   V = a + c d - Zp I,      J = j0 + h d + mᵀ I.
// Nothing is neglected. Units: V, A, Ω, S.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/network/load_law.h"
#include "evenleg/network/model.h"
#include "evenleg/network/places.h"

namespace evenleg {

class BehaviourNetwork {
 public:
  BehaviourNetwork(const Model& model, const std::vector<LoadBehaviour>& behaviours,
                   const Place& place, const std::vector<bool>& on);

  [[nodiscard]] const std::vector<int>& ports() const { return ports_; }     // loads with a law
  [[nodiscard]] const std::vector<int>& beyond() const { return beyond_; }  // all on, in order
  // Source volts of the legs that loads beyond hang on, each once.
  [[nodiscard]] const std::vector<Complex>& poles() const { return poles_; }
  // A constant impedance or an earth return joins the broken neutral to anything.
  [[nodiscard]] bool held() const { return held_; }

  // Ports' volts with `d` and the ports' currents `amps`; their drop alone is Zp amps.
  [[nodiscard]] Vector open_volts(Complex d) const { return a_ + c_ * d; }
  [[nodiscard]] Complex port_ohms(Eigen::Index port) const { return zp_(port, port); }
  // Row `port` of Zp amps. This product is most of the work in a large house; with the parts kept
  // apart it goes through whole registers.
  [[nodiscard]] Complex drop(Eigen::Index port, const Eigen::ArrayXd& amps_re,
                             const Eigen::ArrayXd& amps_im) const;
  // Those that follow from `volts` when d moves `by` and the ports' currents stay.
  [[nodiscard]] Vector moved(const Vector& volts, Complex by) const { return volts + c_ * by; }
  [[nodiscard]] Complex break_amps(Complex d, const Vector& amps) const;
  // The displacement with each port a fixed admittance, `conductance` across the break; exact.
  // `volts`: of the ports; where it has their size, where to start from.
  // Requires: held(), a conductance, or an admittance that is not zero.
  [[nodiscard]] Complex displacement(const Vector& admittances, double conductance,
                                     Vector& volts) const;
  // Volts across each of beyond(), ports included.
  [[nodiscard]] std::vector<double> volts_beyond(Complex d, const Vector& amps) const;

 private:
  [[nodiscard]] Vector drops(const Vector& amps) const;  // Zp amps
  // As displacement(), the wiring's drops taken from the last round's currents; nothing where that
  // does not settle. Where it does it is the same solution.
  [[nodiscard]] std::optional<Complex> displacement_by_rounds(const Vector& admittances,
                                                              double conductance,
                                                              Vector& volts) const;

  std::vector<int> ports_, beyond_;
  std::vector<Complex> poles_;
  bool held_ = false;
  Vector a_, c_, m_;
  Matrix zp_;
  Eigen::MatrixXd zp_re_, zp_im_;
  Complex j0_{}, h_{};
  Vector va_, vc_;  // of beyond(): volts at d = 0 without port currents, and by d
  Matrix vz_;       // and by port currents
};

}  // namespace evenleg
