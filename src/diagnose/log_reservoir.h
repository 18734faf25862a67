// A fair sample of a stream in bounded memory (algorithm R), the same at each run.
#pragma once

#include <cstdint>
#include <vector>

namespace evenleg {

template <class Item>
class Reservoir {
 public:
  explicit Reservoir(std::size_t most) : most_(most) {}

  void add(const Item& item) {
    ++seen_;
    if (items_.size() < most_) {
      items_.push_back(item);
      return;
    }
    const std::uint64_t at = next() % seen_;
    if (at < most_) items_[static_cast<std::size_t>(at)] = item;
  }
  void clear() {
    items_.clear();
    seen_ = 0;
  }
  [[nodiscard]] const std::vector<Item>& items() const { return items_; }
  [[nodiscard]] std::uint64_t seen() const { return seen_; }

 private:
  // xorshift64*, G. Marsaglia and S. Vigna; any generator would do.
  std::uint64_t next() {
    state_ ^= state_ >> 12U;
    state_ ^= state_ << 25U;
    state_ ^= state_ >> 27U;
    return (state_ * 0x2545F4914F6CDD1DULL) >> 1U;
  }

  std::size_t most_;
  std::vector<Item> items_;
  std::uint64_t seen_ = 0;
  std::uint64_t state_ = 0x9E3779B97F4A7C15ULL;
};

}  // namespace evenleg
