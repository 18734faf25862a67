// The `[references.NAME]` tables of a data file: one citation each, which its entries point at.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "evenleg/base/citation.h"
#include "src/tables/data_file.h"

namespace evenleg {

class References {
 public:
  explicit References(Row& root);

  // The citation that `key` of `row` names; a name that no reference has is a fault.
  [[nodiscard]] Citation named_by(Row& row, std::string_view key) const;

 private:
  std::map<std::string, Citation, std::less<>> citations_;
};

}  // namespace evenleg
