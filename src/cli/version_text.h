// What `evenleg --version` prints: the version, the build, and the editions of the codes and
// standards that the built-in tables are from.
#pragma once

#include <string>

namespace evenleg {

[[nodiscard]] std::string version_text();

}  // namespace evenleg
