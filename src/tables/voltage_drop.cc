#include "src/tables/readers.h"

namespace evenleg {

void read_voltage_drop(Row& root, Tables& tables) {
  tables.voltage_drop.source = root.citation("source");
  Row limits = root.table("limits");
  tables.voltage_drop.branch_percent = limits.number("branch_percent", Allowed::Positive);
  tables.voltage_drop.total_percent = limits.number("total_percent", Allowed::Positive);
  limits.end();
  root.end();
}

}  // namespace evenleg
