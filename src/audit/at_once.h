// Work on independent things, as many at once as the machine has processors.
#pragma once

#include <cstddef>
#include <functional>
#include <string_view>

namespace evenleg {

// Calls `work` for 0 .. count - 1, begun in that order, and `done` after each, one at a time. What
// `work` throws is thrown here once all that began has ended.
void at_once(std::size_t count, const std::function<void(std::size_t)>& work,
             const std::function<void()>& done = {});

using Progress = std::function<void(std::string_view doing, int done, int all)>;

// The same, told as progress where that is not empty.
void at_once(const Progress& progress, std::string_view doing, std::size_t count,
             const std::function<void(std::size_t)>& work);

}  // namespace evenleg
