// Loaded into a program in front of the C library: ends it with SIGKILL at the n-th call that
// changes a file, before the call, after it, or with half of what it writes written.
// EVENLEG_KILL_AT=N, EVENLEG_KILL_HOW=before|half|after. Source: dlsym(3), RTLD_NEXT.
#include <dlfcn.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>

namespace {

long left() {
  static long count = [] {
    const char* at = std::getenv("EVENLEG_KILL_AT");
    return at == nullptr ? 0L : std::atol(at);
  }();
  return count > 0 ? count-- : 0;
}

char how() {
  const char* text = std::getenv("EVENLEG_KILL_HOW");
  return text == nullptr ? 'b' : text[0];
}

[[noreturn]] void die() {
  ::kill(::getpid(), SIGKILL);
  for (;;) ::pause();
}

bool is_regular(int file) {
  struct stat status {};
  return ::fstat(file, &status) == 0 && S_ISREG(status.st_mode);
}

template <class Function>
Function next(const char* name) {
  return reinterpret_cast<Function>(::dlsym(RTLD_NEXT, name));
}

// `half`: does a part of the call.
template <class Call, class Half>
auto maybe_die(bool counts, Call call, Half half) {
  const bool now = counts && left() == 1;
  if (now && how() == 'b') die();
  if (now && how() == 'h') {
    half();
    die();
  }
  const auto result = call();
  if (now) die();
  return result;
}

const auto nothing = [] {};

}  // namespace

extern "C" {

ssize_t write(int file, const void* bytes, size_t size) {
  static const auto real = next<ssize_t (*)(int, const void*, size_t)>("write");
  return maybe_die(
      is_regular(file), [&] { return real(file, bytes, size); },
      [&] { (void)real(file, bytes, size / 2); });
}

ssize_t pwrite64(int file, const void* bytes, size_t size, off64_t at) {
  static const auto real = next<ssize_t (*)(int, const void*, size_t, off64_t)>("pwrite64");
  return maybe_die(
      is_regular(file), [&] { return real(file, bytes, size, at); },
      [&] { (void)real(file, bytes, size / 2, at); });
}

int fsync(int file) {
  static const auto real = next<int (*)(int)>("fsync");
  return maybe_die(
      true, [&] { return real(file); }, nothing);
}

int fdatasync(int file) {
  static const auto real = next<int (*)(int)>("fdatasync");
  return maybe_die(
      true, [&] { return real(file); }, nothing);
}

int ftruncate64(int file, off64_t size) {
  static const auto real = next<int (*)(int, off64_t)>("ftruncate64");
  return maybe_die(
      true, [&] { return real(file, size); }, nothing);
}

int unlink(const char* name) {
  static const auto real = next<int (*)(const char*)>("unlink");
  return maybe_die(
      true, [&] { return real(name); }, nothing);
}

int link(const char* from, const char* to) {
  static const auto real = next<int (*)(const char*, const char*)>("link");
  return maybe_die(
      true, [&] { return real(from, to); }, nothing);
}

int rename(const char* from, const char* to) {
  static const auto real = next<int (*)(const char*, const char*)>("rename");
  return maybe_die(
      true, [&] { return real(from, to); }, nothing);
}

}  // extern "C"
