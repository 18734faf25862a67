#include "evenleg/network/collapse.h"

#include <Eigen/LU>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

void add_load(CableMatrix& y, const LoadModel& load, Complex admittance) {
  y(load.from, load.from) += admittance;
  if (load.to == kNeutral) return;
  y(load.to, load.to) += admittance;
  y(load.from, load.to) -= admittance;
  y(load.to, load.from) -= admittance;
}

// Most cables have one hot or two, and a size known beforehand saves most of the time.
CableMatrix inverse_of(const CableMatrix& m) {
  if (m.rows() == 1) return CableMatrix::Constant(1, 1, 1.0 / m(0, 0));
  if (m.rows() == 2) return Eigen::Matrix2cd(m).partialPivLu().inverse();
  return m.inverse();
}

}  // namespace

CableReduction::CableReduction(const CableModel& cable, std::span<const LoadModel> loads,
                               std::span<const Complex> load_admittances,
                               const std::optional<NeutralFault>& fault)
    : cable_(cable), lengths_(cable.boxes.size()), reaches_neutral_(cable.boxes.size(), false) {
  const auto hots = static_cast<Eigen::Index>(cable.hots.size());
  for (std::size_t b = 0; b < lengths_.size(); ++b) {
    lengths_[b].y = CableMatrix::Zero(hots, hots);
    for (int l : cable.boxes[b].loads) {
      const Complex admittance = load_admittances[at(l)];
      if (admittance == Complex{}) continue;
      add_load(lengths_[b].y, loads[at(l)], admittance);
      if (loads[at(l)].to == kNeutral) reaches_neutral_[b] = true;
    }
  }
  for (std::size_t b = lengths_.size(); b-- > 1;) {
    const bool is_fault = fault && fault->place.box == static_cast<int>(b);
    eliminate(b, is_fault ? &*fault : nullptr);
  }
}

void CableReduction::eliminate(std::size_t box, const NeutralFault* fault) {
  const BoxModel& model = cable_.boxes[box];
  Length& length = lengths_[box];
  const Eigen::Index hots = length.y.rows();
  length.removed = fault != nullptr && fault->added_ohms == kOpen;
  length.neutral_ohms = model.run.neutral;
  if (fault != nullptr && !length.removed) length.neutral_ohms += fault->added_ohms;
  CableMatrix z = CableMatrix::Zero(hots, hots);
  z.diagonal().setConstant(model.run.hot);
  if (!length.removed) z.array() += length.neutral_ohms;
  CableMatrix upstream;
  if (z.isZero(0)) {
    length.m = CableMatrix::Identity(hots, hots);
    upstream = length.y;
  } else {
    length.m = inverse_of(CableMatrix::Identity(hots, hots) + z * length.y);
    upstream = length.y * length.m;
  }
  if (length.removed) {
    length.w = upstream.rowwise().sum();
    length.s = length.w.sum();
    if (reaches_neutral_[box]) upstream -= length.w * length.w.transpose() / length.s;
  } else if (reaches_neutral_[box]) {
    reaches_neutral_[at(model.upstream)] = true;
  }
  lengths_[at(model.upstream)].y += upstream;
}

std::vector<BoxVolts> CableReduction::expand(const CableVector& p) const {
  std::vector<BoxVolts> boxes(lengths_.size());
  boxes.front().hot_to_neutral = p;
  for (std::size_t b = 1; b < lengths_.size(); ++b) {
    const Length& length = lengths_[b];
    const BoxVolts& upstream = boxes[at(cable_.boxes[b].upstream)];
    BoxVolts& box = boxes[b];
    box.isolated = upstream.isolated;
    box.neutral_rise = upstream.neutral_rise;
    if (!length.removed) {
      box.hot_to_neutral = length.m * upstream.hot_to_neutral;
      box.neutral_rise += length.neutral_ohms * (length.y * box.hot_to_neutral).sum();
      continue;
    }
    Complex shift{};
    if (reaches_neutral_[b]) {
      shift = length.w.cwiseProduct(upstream.hot_to_neutral).sum() / length.s;
    } else {
      box.isolated = true;
    }
    box.hot_to_neutral =
        length.m * (upstream.hot_to_neutral - CableVector::Constant(p.size(), shift));
    box.neutral_rise += shift;
  }
  return boxes;
}

}  // namespace evenleg
