// Rung by whatever has something new to tell; waited on by whoever tells the pages.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>

namespace evenleg {

class News {
 public:
  void ring() {
    const std::scoped_lock lock(lock_);
    ++rung_;
    heard_.notify_all();
  }
  // No wait lasts from now on.
  void close() {
    const std::scoped_lock lock(lock_);
    closed_ = true;
    heard_.notify_all();
  }
  [[nodiscard]] bool closed() const {
    const std::scoped_lock lock(lock_);
    return closed_;
  }
  // How often it has been rung, once that is more than `seen` or the time is over.
  [[nodiscard]] int wait(int seen, std::chrono::milliseconds most) {
    std::unique_lock lock(lock_);
    heard_.wait_for(lock, most, [&] { return closed_ || rung_ > seen; });
    return rung_;
  }

 private:
  mutable std::mutex lock_;
  std::condition_variable heard_;
  int rung_ = 0;
  bool closed_ = false;
};

}  // namespace evenleg
