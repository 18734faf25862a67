#include "src/audit/neutral_lengths.h"

#include <algorithm>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

std::string name_of_length(const Seen& seen, const Cable& cable, const Box& box) {
  const bool shared = box.hots.size() > 1;
  if (box.outlet >= 0) {
    const std::string& outlet = seen.house.outlets[at(box.outlet)].name;
    return shared ? neutral_at(PlaceKind::SharedLength, outlet)
                  : "the neutral into " + in_quotes(outlet);
  }
  if (cable.multiwire >= 0 && box.upstream == 0) {
    return neutral_at(PlaceKind::SharedRun, seen.house.multiwires[at(cable.multiwire)].name);
  }
  const int circuit = cable.hots[at(box.hots.front())].circuit;
  return "the neutral of " + in_quotes(seen.house.circuits[at(circuit)].name);
}

}  // namespace

bool neutral_is_as_the_hots(const Run& run) {
  return !run.neutral || (run.conductor && *run.conductor == *run.neutral);
}

std::vector<NeutralLength> neutral_lengths(const Seen& seen, int c) {
  const Cable& cable = seen.wiring.cables[at(c)];
  std::vector<NeutralLength> lengths;
  for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
    const Box& box = cable.boxes[b];
    if (box.upstream < 0 || box.hots.empty()) continue;
    NeutralLength length;
    length.box = static_cast<int>(b);
    length.name = name_of_length(seen, cable, box);
    length.run = &box.run;
    for (int hot : box.hots) {
      const int circuit = cable.hots[at(hot)].circuit;
      if (std::find(length.circuits.begin(), length.circuits.end(), circuit) ==
          length.circuits.end()) {
        length.circuits.push_back(circuit);
      }
    }
    const auto& name = box.run.neutral ? box.run.neutral : box.run.conductor;
    if (name) length.conductor = find_conductor(seen.tables, *name);
    if (length.conductor != nullptr) length.ampacity = branch_ampacity(*length.conductor);
    length.as_the_hots = neutral_is_as_the_hots(box.run);
    length.amps = std::abs(seen.as_found.boxes[at(c)][b].neutral_amps);
    lengths.push_back(std::move(length));
  }
  return lengths;
}

}  // namespace evenleg
