#include <fmt/format.h>

#include "src/tables/readers.h"
#include "src/tables/references.h"

namespace evenleg {

void read_voltage_limits(Row& root, Tables& tables) {
  (void)root.citation("source");  // must be there; each row carries its own
  const References references(root);
  for (Row& row : root.rows("limits")) {
    VoltageLimits limits;
    limits.jurisdiction = row.text("jurisdiction");
    limits.name = row.text("name");
    limits.base_volts = row.number("base_volts", Allowed::Positive);
    limits.least_volts = row.number("least_volts", Allowed::Positive);
    limits.most_volts = row.number("most_volts", Allowed::Positive);
    limits.source = references.named_by(row, "reference");
    if (limits.least_volts > limits.most_volts) {
      row.refuse("least_volts",
                 fmt::format("{} V at least, {} V at most", limits.least_volts, limits.most_volts),
                 "exchange them or correct one");
    }
    row.end();
    tables.voltage_limits.push_back(std::move(limits));
  }
  root.end();
}

}  // namespace evenleg
