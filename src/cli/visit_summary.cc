#include "src/cli/visit_summary.h"

#include <vector>

#include "evenleg/diagnose/diagnose.h"
#include "evenleg/report/diagnose_text.h"
#include "src/cli/readings_table.h"

namespace evenleg {

std::string visit_summary(House house, const std::string& round, const Tables& tables) {
  if (round != kFirstRound) {
    std::erase_if(house.readings, [&](const Reading& reading) {
      return !reading.label || !reading.label->starts_with(round + ":");
    });
  }
  if (house.readings.empty()) return "";
  return readings_table(house) + missing_readings_text(diagnose(house, tables).estimation);
}

}  // namespace evenleg
