#include "src/audit/place_question.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

std::optional<Extreme<Volts>> for_load(std::optional<Extreme<Volts>> extreme, int stand_in,
                                       int load) {
  if (extreme) extreme->on = with_load(std::move(extreme->on), stand_in, load);
  return extreme;
}

}  // namespace

std::vector<int> with_load(std::vector<int> on, int stand_in, int load) {
  if (stand_in == load || std::find(on.begin(), on.end(), load) != on.end()) return on;
  std::replace(on.begin(), on.end(), stand_in, load);
  std::sort(on.begin(), on.end());
  return on;
}

std::optional<std::string> protecting_panel(const House& house, const Model& model,
                                            const WorstCase& worst, const NeutralFault& fault) {
  if (in_cable(fault.place)) return std::nullopt;
  const Panel& panel = house.panels[at(fault.place.panel)];
  if (!panel.neutral_loss_trip_volts) return std::nullopt;
  for (int leg : model.panels[at(fault.place.panel)].legs) {
    const double most = worst.panel_leg_volts(fault, fault.place.panel, leg);
    if (most > *panel.neutral_loss_trip_volts) return panel.name;
  }
  return std::nullopt;
}

PlaceQuestion::PlaceQuestion(const House& house, const Wiring& wiring, const Model& model,
                             const WorstCase& worst, const NeutralFault& fault)
    : wiring_(&wiring), worst_(&worst), fault_(fault),
      loads_(load_terminals_beyond(model, fault.place)),
      empty_(empty_terminals_beyond(house, wiring, model, fault.place)) {
  for (const Terminals& t : loads_) {
    Terminals stand_in = t;
    stand_in.load = worst.credible().stand_in[at(t.load)];
    const auto same =
        std::find_if(asked_.begin(), asked_.end(),
                     [&](const Terminals& other) { return other.load == stand_in.load; });
    answer_.push_back(static_cast<std::size_t>(same - asked_.begin()));
    if (same == asked_.end()) {
      asked_.push_back(stand_in);
      stands_for_.emplace_back();
    }
    stands_for_[answer_.back()].push_back(t.load);
  }
  for (const auto& [outlet, terminals] : empty_) asked_.push_back(terminals);
  stands_for_.resize(asked_.size());
  case_ = worst.fault_case(fault, asked_);
}

PlaceQuestion::PlaceQuestion(const PlaceQuestion& like, const NeutralFault& fault)
    : wiring_(like.wiring_), worst_(like.worst_), fault_(fault), loads_(like.loads_),
      answer_(like.answer_), empty_(like.empty_), asked_(like.asked_),
      stands_for_(like.stands_for_),
      case_(worst_->fault_case(fault, asked_, like.case_.get())) {}

PlaceQuestion PlaceQuestion::with_ohms(double added) const {
  return {*this, NeutralFault{fault_.place, added}};
}

std::vector<LoadExtremes> PlaceQuestion::loads(const std::vector<bool>& on,
                                               const Solution& solved) const {
  std::vector<LoadExtremes> rows;
  for (std::size_t i = 0; i < loads_.size(); ++i) {
    LoadExtremes row;
    row.load = loads_[i].load;
    if (on[at(row.load)]) row.as_found = volts(std::abs(solved.load_volts[at(row.load)]));
    const Extremes<Volts>& found = case_->extremes()[answer_[i]];
    const int stand_in = asked_[answer_[i]].load;
    row.highest = for_load(found.highest, stand_in, row.load);
    row.lowest = for_load(found.lowest, stand_in, row.load);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<OutletExtremes> PlaceQuestion::empty_outlets() const {
  std::vector<OutletExtremes> rows;
  for (std::size_t i = 0; i < empty_.size(); ++i) {
    const auto& [outlet, terminals] = empty_[i];
    const Extremes<Volts>& found = case_->extremes()[asked_.size() - empty_.size() + i];
    rows.push_back({outlet,
                    legs_text(*wiring_, wiring_->cables[at(terminals.cable)], terminals.from,
                              kNeutral),
                    found.highest, found.lowest});
  }
  return rows;
}

}  // namespace evenleg
