// The words that the description tests use, small enough to see at a glance.
#pragma once

#include "evenleg/house/vocabulary.h"

namespace evenleg {

inline Vocabulary small_vocabulary() {
  Vocabulary words;
  words.systems = {{"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true},
                   {"230/400 wye", 230, {{"L1", 0}, {"L2", -120}, {"L3", 120}}, false}};
  words.load_kinds = {"plain", "heating", "motor"};
  words.knows_conductor = [](std::string_view name) {
    return name == "12 Cu" || name == "6 Cu" || name == "4/0 Al" || name == "2/0 Al" ||
           name == "2.5 mm2 Cu";
  };
  return words;
}

}  // namespace evenleg
