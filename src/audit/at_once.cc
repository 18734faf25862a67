#include "src/audit/at_once.h"

#include <algorithm>
#include <atomic>
#include <future>
#include <mutex>
#include <thread>
#include <vector>

namespace evenleg {

void at_once(std::size_t count, const std::function<void(std::size_t)>& work,
             const std::function<void()>& done) {
  std::atomic<std::size_t> next = 0;
  std::mutex telling;
  const auto take_turns = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        next = count;
        throw;
      }
      const std::scoped_lock lock(telling);
      if (done) done();
    }
  };
  const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
  std::vector<std::future<void>> others;
  for (std::size_t t = 1; t < std::min(processors, count); ++t) {
    others.push_back(std::async(std::launch::async, take_turns));
  }
  std::exception_ptr failure;
  const auto keep = [&](const auto& call) {
    try {
      call();
    } catch (...) {
      if (!failure) failure = std::current_exception();
    }
  };
  keep(take_turns);
  for (std::future<void>& other : others) keep([&] { other.get(); });
  if (failure) std::rethrow_exception(failure);
}

void at_once(const Progress& progress, std::string_view doing, std::size_t count,
             const std::function<void(std::size_t)>& work) {
  int done = 0;
  at_once(count, work, [&] {
    if (progress) progress(doing, ++done, static_cast<int>(count));
  });
}

}  // namespace evenleg
