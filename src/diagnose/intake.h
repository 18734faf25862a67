// What the answers of the intake hold, by the words of data/patterns.toml.
//
// An answer is read with its key before it ("neighbours: yes"), clause by clause (parted by . , ; !
// ? and "but"), without regard to case. A word with "no", "not", "never", "without" or a verb in
// n't within three words before it does not count, unless the words of the table hold the "no"
// itself. Fields of the record (date, by, weather on the day …) are no answers.
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/tables/patterns.h"

namespace evenleg {

struct FactHeard {
  std::string fact;
  std::string said;  // `complaint: "lights dim when …"`, cut to what a line can hold
};

[[nodiscard]] std::vector<FactHeard> facts_heard(const FreeText& visit,
                                                 const SymptomTables& tables);

}  // namespace evenleg
