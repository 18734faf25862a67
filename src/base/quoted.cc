#include "evenleg/base/quoted.h"

#include "evenleg/base/format.h"

namespace evenleg {

std::string in_quotes(std::string_view name) {
  constexpr int kMostColumns = 40;  // leaves room for a sentence around it on a 100-column page
  return "\"" + shortened(name, kMostColumns) + "\"";
}

}  // namespace evenleg
