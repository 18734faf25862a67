// Random choices that are the same on every machine for the same seed. The standard fixes the
// Mersenne twister's numbers but not those of its distributions, so the few needed are here.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

namespace evenleg {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}

  // From 0 to sides - 1. Requires: sides > 0. The bias of the remainder is below 2^-50 here.
  [[nodiscard]] int below(int sides) {
    return static_cast<int>(engine_() % static_cast<std::uint64_t>(sides));
  }
  // From `least` to `most`, both included.
  [[nodiscard]] int whole(int least, int most) { return least + below(most - least + 1); }
  // From `least` up to `most`.
  [[nodiscard]] double between(double least, double most) {
    constexpr int kMantissaBits = 53;
    constexpr int kWordBits = 64;
    const double unit = static_cast<double>(engine_() >> (kWordBits - kMantissaBits)) /
                        static_cast<double>(std::uint64_t{1} << kMantissaBits);
    return least + (most - least) * unit;
  }
  [[nodiscard]] bool chance(double probability) { return between(0, 1) < probability; }
  template <class Item>
  [[nodiscard]] const Item& pick(const std::vector<Item>& items) {
    return items[static_cast<std::size_t>(below(static_cast<int>(items.size())))];
  }
  template <class Item>
  void shuffle(std::vector<Item>& items) {
    for (std::size_t i = items.size(); i > 1; --i) {
      std::swap(items[i - 1], items[static_cast<std::size_t>(below(static_cast<int>(i)))]);
    }
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace evenleg
