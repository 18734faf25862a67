// When a reading was taken, in seconds, for differences.
#pragma once

#include <optional>
#include <string>

namespace evenleg {

// "2026-03-14T10:20:00", with or without seconds and zone; a zone is not counted in, since one
// visit keeps to one. Nothing for another form.
[[nodiscard]] std::optional<double> seconds_of(const std::string& time);

}  // namespace evenleg
