// One cable reduced to what it shows at its panel, exactly, and expanded again.
//
// p is the vector of hot-to-neutral volts at a point of the cable (a row for each hot of the cable), Y
// the admittance of everything beyond that point: i = Y p, i the hot currents, returning in the
// neutral or in each other. Through a length with z in each hot and zn in the neutral, with
// Z = z I + zn 1 1ᵀ,
//   p_upstream = p + Z i   so   p = M p_upstream,  M = (I + Z Y)^-1,  Y_upstream = Y M.
// Where that length's neutral is removed, the currents beyond add to zero: with Y' taken through the
// hots alone, w = Y' 1 and s = 1ᵀ w, the neutral beyond shifts by
//   d = wᵀ p_upstream / s,   Y_upstream = Y' - w wᵀ / s.
// There is no stand-in impedance anywhere. Where no load joins the neutral beyond to anything, nothing
// is fed through it: it is `isolated` and its potential has no meaning.
//
// Cost: linear in the boxes. Method: Gaussian elimination from the leaves of a tree (nodal analysis as
// in Ho, Ruehli, Brennan 1975; reference from memory).
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "evenleg/network/model.h"
#include "evenleg/network/places.h"

namespace evenleg {

// Volts at one box of a cable.
struct BoxVolts {
  CableVector hot_to_neutral;  // a row for each hot of the cable; those that do not reach it: unused
  Complex neutral_rise{};      // of the box's neutral over the neutral at the panel end
  bool isolated = false;       // beyond a removed neutral that nothing feeds
};

class CableReduction {
 public:
  // `load_admittances` has one entry for each load of the model, zero where it is off. `fault`, if
  // any, lies in this cable.
  CableReduction(const CableModel& cable, std::span<const LoadModel> loads,
                 std::span<const Complex> load_admittances,
                 const std::optional<NeutralFault>& fault);

  // Y at the panel end, hots by hots.
  [[nodiscard]] const CableMatrix& admittance() const { return lengths_.front().y; }
  // Whether any load that is on joins a hot and the cable's neutral at the panel end.
  [[nodiscard]] bool reaches_neutral() const { return reaches_neutral_.front(); }
  // Every box's volts when the panel end has `p`.
  [[nodiscard]] std::vector<BoxVolts> expand(const CableVector& p) const;

 private:
  struct Length {
    CableMatrix y;  // beyond the box at its end, loads there included
    CableMatrix m;  // p = m p_upstream (hots alone where the neutral is removed)
    bool removed = false;
    CableVector w;
    Complex s{};
    Complex neutral_ohms{};
  };

  void eliminate(std::size_t box, const NeutralFault* fault);

  const CableModel& cable_;
  std::vector<Length> lengths_;        // by box
  std::vector<bool> reaches_neutral_;  // by box: a load at or beyond it joins its neutral
};

}  // namespace evenleg
