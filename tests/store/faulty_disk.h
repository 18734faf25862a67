// SQLite's file layer with faults: while one of these lives, every file that SQLite opens goes
// through it, and the call that is asked for fails.
// Source: "SQLite, The Virtual Filesystem" and sqlite3.h, sqlite3_vfs and sqlite3_io_methods.
#pragma once

#include <string>

namespace evenleg::store_test {

enum class DiskFault {
  Io,    // the call fails as a broken disk does; a write has half of its bytes on the disk by then
  Full,  // writes fail as on a full disk, other calls as a broken one
  Slow,  // nothing fails; each call takes a millisecond, as over a network
};

class FaultyDisk {
 public:
  // Sound until fail_at().
  FaultyDisk();
  FaultyDisk(const FaultyDisk&) = delete;
  FaultyDisk& operator=(const FaultyDisk&) = delete;
  ~FaultyDisk();

  // The n-th call from now on fails, 1 is the next; `for_good`: and all calls after it, as when the
  // disk is gone.
  void fail_at(long n, DiskFault fault, bool for_good);
  void slow_down();
  // Sound again. Whether anything failed.
  bool repair();
  // What failed first: "xWrite".
  [[nodiscard]] const std::string& struck() const;
  // Calls since the last fail_at().
  [[nodiscard]] long calls() const;
};

}  // namespace evenleg::store_test
