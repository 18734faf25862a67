#include "evenleg/house/house.h"

namespace evenleg {

std::string name_of(const House& house) {
  const auto found = house.about.find("name");
  return found == house.about.end() ? "" : found->second;
}

}  // namespace evenleg
