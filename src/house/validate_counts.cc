// Whether a house is small enough to be worked out.
#include <fmt/format.h>

#include "evenleg/house/limits.h"
#include "src/house/judge.h"

namespace evenleg {
namespace {

template <class Record>
void judge_count(Judge& judge, std::string_view kind, const std::vector<Record>& records,
                 std::size_t most) {
  if (records.size() <= most) return;
  judge.fault(kind, most, "",
              fmt::format("there are {} entries of this kind, and a house may have at most {}",
                          records.size(), most),
              "describe less in one house, or enter as one what always goes together");
}

}  // namespace

bool judge_counts(Judge& judge) {
  const House& house = judge.house;
  judge_count(judge, "panel", house.panels, kMostPanels);
  judge_count(judge, "circuit", house.circuits, kMostCircuits);
  judge_count(judge, "multiwire", house.multiwires, kMostMultiwires);
  judge_count(judge, "outlet", house.outlets, kMostOutlets);
  judge_count(judge, "load", house.loads, kMostLoads);
  judge_count(judge, "scenario", house.scenarios, kMostScenarios);
  judge_count(judge, "reading", house.readings, kMostReadings);
  judge_count(judge, "finding", house.findings, kMostFindings);
  return judge.faults.empty();
}

}  // namespace evenleg
