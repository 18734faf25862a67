#include "src/audit/every_choice.h"

#include <Eigen/LU>

#include "evenleg/base/index.h"

namespace evenleg {

std::optional<std::size_t> next_choice(const std::vector<int>& sizes, Choice& choice) {
  for (std::size_t n = 0; n < choice.size(); ++n) {
    if (++choice[n] < sizes[n]) return n;
    choice[n] = 0;
  }
  return std::nullopt;
}

std::vector<int> state_counts(const Elements& elements) {
  std::vector<int> counts;
  for (const Element& element : elements) {
    counts.push_back(static_cast<int>(element.states.size()));
  }
  return counts;
}

EveryChoice::EveryChoice(const Equations& equations, const Elements& elements)
    : eq_(equations), elements_(elements), sizes_(state_counts(elements)),
      choice_(elements.size(), 0),
      from_(elements.size() + 1, SmallMatrix::Zero(equations.e.size(), equations.e.size())) {
  for (std::size_t n = elements.size(); n-- > 0;) add_up(n);
}

bool EveryChoice::next() {
  const std::optional<std::size_t> moved = next_choice(sizes_, choice_);
  if (!moved) return false;
  for (std::size_t n = *moved + 1; n-- > 0;) add_up(n);
  return true;
}

EveryChoice::SmallVector EveryChoice::port_volts(bool joined) const {
  const Eigen::Index q = eq_.e.size();
  const SmallMatrix& y = from_.front();
  const bool bordered = eq_.bordered && joined;
  const Eigen::Index size = bordered ? q + 1 : q;
  SmallMatrix m = SmallMatrix::Zero(size, size);
  m.topLeftCorner(q, q) = eq_.z.lazyProduct(y);
  m.topLeftCorner(q, q).diagonal().array() += 1.0;
  SmallVector rhs = SmallVector::Zero(size);
  rhs.head(q) = eq_.e;
  if (bordered) {
    m.topRightCorner(q, 1) = eq_.b;
    m.bottomLeftCorner(1, q) = eq_.b.transpose().lazyProduct(y);
    m(q, q) = -eq_.g;
  }
  return m.partialPivLu().solve(rhs);
}

void EveryChoice::add_up(std::size_t n) {
  from_[n] = from_[n + 1];
  const Element& element = elements_[n];
  const std::size_t first = at(choice_[n]) * element.edge_count();
  for (std::size_t e = 0; e < element.edge_count(); ++e) {
    const int i = element.ports[at(element.edges[e].first)];
    const int j = element.ports[at(element.edges[e].second)];
    add_edge(from_[n], i, j, element.y[first + e]);
  }
}

}  // namespace evenleg
