#include <cassert>

#include "src/tables/readers.h"

namespace evenleg {

void read_severities(Row& root, Tables& tables) {
  tables.severities_source = root.citation("source");
  for (Row& row : root.rows("severity")) {
    const Severity severity{row.text("name"), row.number("from_over", Allowed::NotNegative),
                            row.text("meaning")};
    if (tables.severities.empty() && severity.from_over > 0) {
      row.refuse("from_over", "the first severity does not start at 0", "write 0");
    }
    if (!tables.severities.empty() && severity.from_over <= tables.severities.back().from_over) {
      row.refuse("from_over", "the severities do not rise", "order them from mild to severe");
    }
    row.end();
    tables.severities.push_back(severity);
  }
  root.end();
}

const Severity& severity_of(const Tables& tables, double over) {
  assert(!tables.severities.empty());
  const Severity* found = &tables.severities.front();
  for (const Severity& severity : tables.severities) {
    if (severity.from_over <= over) found = &severity;
  }
  return *found;
}

}  // namespace evenleg
