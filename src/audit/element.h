// A cable as the worst-case search sees it: for each of its credible states a point, the features of
// that state that the rest of the house can feel, and those that the load looked at can.
//
// Features are complex numbers, in this order:
//   one for each pair i <= j of the cable's ports, siemens: what the cable shows from hot i to neutral
//   (i = j: the sum of row i of Y) or between hots i and j (-Y[i,j]), so that
//   aᵀ Y p = Σ y_ii a_i p_i + Σ y_ij (a_i - a_j)(p_i - p_j);
//   for the cable looked into only, one for each port: the row τ with  V = τ · p,  V what is looked
//   at (volts across a load, or amperes of the cable's neutral) and p the ports' volts.
#pragma once

#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "evenleg/audit/credible.h"
#include "evenleg/network/panel_system.h"

namespace evenleg {

// A pair of terminals at a box of a cable, or a load's two ends.
struct Terminals {
  int cable = 0;
  int box = 0;
  int from = 0;
  int to = kNeutral;
  int load = -1;  // the load that must be on; -1 for empty terminals
};

struct Element {
  int cable = 0;
  std::vector<int> ports;                   // of the panel system, distinct
  std::vector<std::pair<int, int>> edges;   // positions in `ports`, first <= second
  std::vector<CableState> states;
  std::vector<Complex> y;                   // [state * edges + edge]
  std::vector<bool> joins;                  // by state: some load joins the cable's neutral
  std::vector<int> corners;                 // corner_states() of all, where there is one edge
  bool complete = true;

  [[nodiscard]] std::size_t edge_count() const { return edges.size(); }
};

// The cables of a house, one element each. Those that a fault does not touch are shared by the
// faults.
class Elements {
 public:
  class Iterator {
   public:
    using Inner = std::vector<std::shared_ptr<const Element>>::const_iterator;
    explicit Iterator(Inner inner) : inner_(inner) {}
    const Element& operator*() const { return **inner_; }
    Iterator& operator++() { return ++inner_, *this; }
    bool operator==(const Iterator&) const = default;

   private:
    Inner inner_;
  };

  void push_back(Element element) {
    items_.push_back(std::make_shared<const Element>(std::move(element)));
  }
  void replace(std::size_t n, Element element) {
    items_[n] = std::make_shared<const Element>(std::move(element));
  }
  [[nodiscard]] const Element& operator[](std::size_t n) const { return *items_[n]; }
  [[nodiscard]] const Element& front() const { return *items_.front(); }
  [[nodiscard]] const Element& back() const { return *items_.back(); }
  [[nodiscard]] std::size_t size() const { return items_.size(); }
  [[nodiscard]] Iterator begin() const { return Iterator(items_.begin()); }
  [[nodiscard]] Iterator end() const { return Iterator(items_.end()); }

 private:
  std::vector<std::shared_ptr<const Element>> items_;
};

[[nodiscard]] Element make_element(const Model& model, const PanelSystem& system,
                                   const Credible& credible, int cable,
                                   const std::optional<NeutralFault>& fault);

// The rows τ of some terminals of one cable in each of its states.
struct Rows {
  std::size_t ports = 0;
  std::vector<Complex> tau;   // [(state * terminals + terminal) * ports + port]
  std::vector<bool> fed;      // [state * terminals + terminal]: false where nothing can be fed
};

[[nodiscard]] Rows terminal_rows(const Model& model, const Element& element,
                                 const std::vector<Terminals>& terminals,
                                 const std::optional<NeutralFault>& fault);

// The rows of the amperes in the cable's neutral at the panel end: the sum of its hots' currents.
[[nodiscard]] Rows neutral_rows(const Element& element);

// The rows of the amperes through a joint with ohms added in this cable, from the volts that they
// drop along its length. Requires: more than zero ohms, and not open.
[[nodiscard]] Rows joint_rows(const Model& model, const Element& element,
                              const NeutralFault& fault);

}  // namespace evenleg
