// What goes with a thing that is removed: a circuit's outlets and loads, its place in multiwires, a
// load's place in scenarios. Readings are what a meter said and never go so: a thing that one of
// them names is still in use afterwards.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/house/house.h"

namespace evenleg {

// `kind`: "circuit", "multiwire", "outlet" or "load"; others lose nothing. The thing itself stays.
// Of an outlet its own length of cable goes, too: what followed it follows the one before it, by
// its own length. Throws: Error(Request) where the outlets that are left could not be described.
void remove_uses(House& house, std::string_view kind, const std::string& name);

}  // namespace evenleg
