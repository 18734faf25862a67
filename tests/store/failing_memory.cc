#include "tests/store/failing_memory.h"

#include <sqlite3.h>

#include <cstdlib>
#include <new>

namespace evenleg::store_test {
namespace {

struct Countdown {
  long left = 0;  // 0: off
  bool for_good = false;
  bool struck = false;

  bool strikes() {
    if (left == 0) return struck && for_good;
    if (--left > 0) return false;
    struck = true;
    return true;
  }
};
Countdown of_sqlite;
Countdown of_new;

sqlite3_mem_methods sound;

void* allocate(int size) { return of_sqlite.strikes() ? nullptr : sound.xMalloc(size); }
void* reallocate(void* old, int size) {
  return of_sqlite.strikes() ? nullptr : sound.xRealloc(old, size);
}

}  // namespace

void make_sqlite_memory_fail() {
  sqlite3_shutdown();
  sqlite3_config(SQLITE_CONFIG_GETMALLOC, &sound);
  sqlite3_mem_methods failing = sound;
  failing.xMalloc = allocate;
  failing.xRealloc = reallocate;
  sqlite3_config(SQLITE_CONFIG_MALLOC, &failing);
  // Without it small pieces come from a store of each connection, and their failure is not seen.
  sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 0, 0);
}

void fail_allocation(long n, bool for_good) { of_sqlite = {n, for_good, false}; }

bool repair_memory() {
  const bool struck = of_sqlite.struck;
  of_sqlite = {};
  return struck;
}

void fail_new(long n) { of_new = {n, false, false}; }

bool repair_new() {
  const bool struck = of_new.struck;
  of_new = {};
  return struck;
}

bool new_strikes() { return of_new.strikes(); }

}  // namespace evenleg::store_test

// All other forms of new and delete call these.
void* operator new(std::size_t size) {
  if (evenleg::store_test::new_strikes()) throw std::bad_alloc();
  void* const room = std::malloc(size == 0 ? 1 : size);
  if (room == nullptr) throw std::bad_alloc();
  return room;
}
void operator delete(void* room) noexcept { std::free(room); }
void operator delete(void* room, std::size_t) noexcept { std::free(room); }
