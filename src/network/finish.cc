#include "src/network/finish.h"

#include "evenleg/base/index.h"
#include "evenleg/network/panel_system.h"

namespace evenleg {

void fill_loads(const Model& model, const std::vector<Complex>& load_admittances,
                const std::vector<Complex>& drawn, Solution& solution) {
  solution.load_volts.resize(model.loads.size());
  solution.load_amps.resize(model.loads.size());
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    BoxState& box = solution.boxes[at(load.cable)][at(load.box)];
    const Complex to = load.to == kNeutral ? box.neutral : box.hot[at(load.to)];
    solution.load_volts[l] = box.hot[at(load.from)] - to;
    solution.load_amps[l] = load_admittances[l] * solution.load_volts[l];
    if (!drawn.empty()) solution.load_amps[l] += drawn[l];
    if (load.to == kNeutral) box.neutral_amps += solution.load_amps[l];
  }
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    for (std::size_t b = model.cables[c].boxes.size(); b-- > 1;) {
      const int upstream = model.cables[c].boxes[b].upstream;
      solution.boxes[c][at(upstream)].neutral_amps += solution.boxes[c][b].neutral_amps;
    }
  }
}

void split_service_neutral(const Model& model, const std::optional<NeutralFault>& fault,
                           Complex returning_amps, Solution& solution) {
  const std::optional<Complex> conductor = service_neutral_ohms(model, fault);
  if (!conductor) {
    solution.earth_return_amps = model.earth_return_ohms ? returning_amps : Complex{};
    return;
  }
  solution.service_neutral_amps = returning_amps;
  if (!model.earth_return_ohms || *conductor == Complex{}) return;
  const Complex share = *conductor / (*conductor + *model.earth_return_ohms);
  solution.earth_return_amps = share * returning_amps;
  solution.service_neutral_amps = returning_amps - solution.earth_return_amps;
}

}  // namespace evenleg
