// A browser on an address, where this machine has one and someone sits before it.
#pragma once

#include <string>

namespace evenleg {

// False where there is no desktop or nothing opens addresses there; the browser is not waited for.
bool open_browser(const std::string& address);

}  // namespace evenleg
