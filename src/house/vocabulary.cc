#include "evenleg/house/vocabulary.h"

#include <algorithm>

namespace evenleg {

const SupplySystem* find_system(const Vocabulary& vocabulary, std::string_view name) {
  const auto& systems = vocabulary.systems;
  const auto found = std::find_if(systems.begin(), systems.end(),
                                  [&](const SupplySystem& system) { return system.name == name; });
  return found == systems.end() ? nullptr : &*found;
}

}  // namespace evenleg
