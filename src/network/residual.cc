#include "src/network/residual.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/index.h"
#include "evenleg/network/panel_system.h"

namespace evenleg {
namespace {

class Residual {
 public:
  Residual(const Model& model, const std::vector<Complex>& load_admittances,
           const std::optional<NeutralFault>& fault, const Solution& solution)
      : model_(model), fault_(fault), solution_(solution) {
    for (const Complex& leg : model.source) volts_ = std::max(volts_, std::abs(leg));
    for (const Complex& load : solution.load_amps) amps_ += std::abs(load);
    for (const Complex& load : load_admittances) rounding_ += kRounding * volts_ * std::abs(load);
  }

  double worst() {
    for (std::size_t p = 0; p < model_.panels.size(); ++p) panel(p);
    for (std::size_t c = 0; c < model_.cables.size(); ++c) cable(c);
    return worst_;
  }

 private:
  void take(double error, double scale) {
    // Not std::max, which drops what is no number.
    const double relative = error == 0 ? 0 : error / scale;
    if (!(relative <= worst_)) {
      worst_ = std::isnan(relative) ? std::numeric_limits<double>::infinity() : relative;
    }
  }
  // `ohms`: what the amperes in it went through.
  void volts(Complex error, Complex ohms = {}) {
    take(beyond(std::abs(error), std::abs(ohms) * rounding_), volts_);
  }
  void amps(Complex error) { take(beyond(std::abs(error), rounding_), amps_); }
  static double beyond(double error, double rounding) {
    return error <= rounding ? 0 : error;  // what is no number stays so
  }

  [[nodiscard]] std::size_t leg_of(const PanelModel& panel, int leg) const {
    return static_cast<std::size_t>(std::find(panel.legs.begin(), panel.legs.end(), leg) -
                                    panel.legs.begin());
  }
  [[nodiscard]] bool is_at_panel(std::size_t p) const {
    return fault_ && !in_cable(fault_->place) && fault_->place.panel == static_cast<int>(p);
  }
  [[nodiscard]] bool is_at_box(std::size_t c, std::size_t b) const {
    return fault_ && fault_->place.cable == static_cast<int>(c) &&
           fault_->place.box == static_cast<int>(b);
  }
  [[nodiscard]] bool opens() const { return fault_->added_ohms == kOpen; }

  // The source's leg behind its own impedance.
  [[nodiscard]] Complex terminal(int leg) const {
    Complex volts = model_.source[at(leg)];
    const PanelModel& first = model_.panels.front();
    for (std::size_t other = 0; other < first.legs.size(); ++other) {
      volts -= model_.source_impedance(leg, first.legs[other]) *
               solution_.panels.front().hot_amps[other];
    }
    return volts;
  }

  void panel(std::size_t p) {
    const PanelModel& panel = model_.panels[p];
    const PanelState& state = solution_.panels[p];
    for (std::size_t l = 0; l < panel.legs.size(); ++l) {
      const int leg = panel.legs[l];
      const Complex above = p == 0 ? terminal(leg)
                                   : solution_.panels[at(panel.fed_from)]
                                         .hot[leg_of(model_.panels[at(panel.fed_from)], leg)];
      volts(above - state.hot[l] - panel.run.hot * state.hot_amps[l], panel.run.hot);
    }
    if (p == 0) return service_neutral(state);
    const bool here = is_at_panel(p);
    if (here && opens()) return amps(state.neutral_amps);
    const Complex ohms = panel.run.neutral + (here ? fault_->added_ohms : 0.0);
    volts(state.neutral - solution_.panels[at(panel.fed_from)].neutral - ohms * state.neutral_amps,
          ohms);
  }

  void service_neutral(const PanelState& state) {
    amps(state.neutral_amps - solution_.service_neutral_amps - solution_.earth_return_amps);
    const auto conductor = service_neutral_ohms(model_, fault_);
    if (conductor) volts(state.neutral - *conductor * solution_.service_neutral_amps, *conductor);
    if (!conductor) amps(solution_.service_neutral_amps);
    if (!model_.earth_return_ohms) return amps(solution_.earth_return_amps);
    if (!conductor || *conductor != Complex{}) {
      volts(state.neutral - *model_.earth_return_ohms * solution_.earth_return_amps,
            *model_.earth_return_ohms);
    }
  }

  void cable(std::size_t c) {
    const CableModel& cable = model_.cables[c];
    const std::vector<BoxState>& boxes = solution_.boxes[c];
    const std::vector<std::vector<Complex>> hot_amps = hot_amps_of(c);
    for (std::size_t h = 0; h < cable.hots.size(); ++h) {
      const std::size_t p = at(cable.hots[h].panel);
      volts(boxes[0].hot[h] - solution_.panels[p].hot[leg_of(model_.panels[p], cable.hots[h].leg)]);
    }
    volts(boxes[0].neutral - solution_.panels[at(cable.neutral_panel)].neutral);
    for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
      const BoxModel& box = cable.boxes[b];
      const BoxState& above = boxes[at(box.upstream)];
      for (const int h : box.hots) {
        volts(above.hot[at(h)] - boxes[b].hot[at(h)] - box.run.hot * hot_amps[b][at(h)],
              box.run.hot);
      }
      const bool here = is_at_box(c, b);
      if (here && opens()) {
        amps(boxes[b].neutral_amps);
      } else {
        const Complex ohms = box.run.neutral + (here ? fault_->added_ohms : 0.0);
        volts(boxes[b].neutral - above.neutral - ohms * boxes[b].neutral_amps, ohms);
      }
    }
  }

  // [box][hot]: through the length that ends at the box.
  [[nodiscard]] std::vector<std::vector<Complex>> hot_amps_of(std::size_t c) const {
    const CableModel& cable = model_.cables[c];
    std::vector<std::vector<Complex>> all(cable.boxes.size(),
                                          std::vector<Complex>(cable.hots.size()));
    for (const int l : cable.loads) {
      const LoadModel& load = model_.loads[at(l)];
      all[at(load.box)][at(load.from)] += solution_.load_amps[at(l)];
      if (load.to != kNeutral) all[at(load.box)][at(load.to)] -= solution_.load_amps[at(l)];
    }
    for (std::size_t b = cable.boxes.size(); b-- > 1;) {
      for (std::size_t h = 0; h < cable.hots.size(); ++h) {
        all[at(cable.boxes[b].upstream)][h] += all[b][h];
      }
    }
    return all;
  }

  const Model& model_;
  const std::optional<NeutralFault>& fault_;
  const Solution& solution_;
  double volts_ = 1;    // harmonics have no source of their own
  double amps_ = 1e-3;  // with hardly anything on, rounding is not measured against nothing
  // Amperes that a load's volts, a difference of two potentials of the source's size, leave open:
  // all for a load of next to no ohms behind a bad joint.
  static constexpr double kRounding = 1e-12;
  double rounding_ = 1e-8;  // what no meter shows, through a megohm 10 mV
  double worst_ = 0;
};

}  // namespace

void judge_residual(const Model& model, const std::vector<Complex>& load_admittances,
                    const std::optional<NeutralFault>& fault, Solution& solution) {
  solution.residual = Residual(model, load_admittances, fault, solution).worst();
  if (solution.status == SolveStatus::Solved && !(solution.residual <= kMostResidual)) {
    solution.status = SolveStatus::Inaccurate;
  }
}

}  // namespace evenleg
