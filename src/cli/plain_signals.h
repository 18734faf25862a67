// For a program that is started: no signal is blocked in it, whatever is blocked here.
#pragma once

#include <spawn.h>

#include <csignal>

namespace evenleg {

class PlainSignals {
 public:
  PlainSignals() {
    sigset_t none;
    sigemptyset(&none);
    posix_spawnattr_init(&attributes_);
    posix_spawnattr_setsigmask(&attributes_, &none);
    posix_spawnattr_setflags(&attributes_, POSIX_SPAWN_SETSIGMASK);
  }
  ~PlainSignals() { posix_spawnattr_destroy(&attributes_); }
  PlainSignals(const PlainSignals&) = delete;
  PlainSignals& operator=(const PlainSignals&) = delete;

  [[nodiscard]] const posix_spawnattr_t* attributes() const { return &attributes_; }

 private:
  posix_spawnattr_t attributes_{};
};

}  // namespace evenleg
