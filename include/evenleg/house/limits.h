// How large a house may be: more than any dwelling has, and no more than can be worked out in
// minutes. validate() refuses what is beyond. The range of each number stands with its field
// (fields.h), the size of a text with the reader (describe.h).
#pragma once

#include <cstddef>
#include <cstdint>

namespace evenleg {

inline constexpr std::size_t kMostPanels = 24;
inline constexpr std::size_t kMostFeedersDeep = 6;  // between the service and a panel
inline constexpr std::size_t kMostCircuits = 500;
inline constexpr std::size_t kMostMultiwires = 100;
inline constexpr std::size_t kMostOutlets = 2000;
// Each outlet along a multiwire is a place where its neutral can open, looked at for all the others.
inline constexpr std::size_t kMostOutletsOfMultiwire = 40;
inline constexpr std::size_t kMostOutletsOfMultiwires = 400;  // of all of them together
inline constexpr std::size_t kMostLoads = 1000;
inline constexpr std::size_t kMostScenarios = 100;
inline constexpr std::size_t kMostReadings = 2000;
inline constexpr std::size_t kMostFindings = 2000;

}  // namespace evenleg
