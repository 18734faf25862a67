// Memory that runs out at a chosen allocation, of SQLite's or of C++'s operator new. Both last for
// the rest of the process: for children only (in_child()).
#pragma once

namespace evenleg::store_test {

// Before SQLite's first use in this process. Source: sqlite3.h, SQLITE_CONFIG_MALLOC.
void make_sqlite_memory_fail();

// The n-th allocation from now on fails, 1 is the next, and with `for_good` all after it.
void fail_allocation(long n, bool for_good);
// Sound again; whether any failed.
bool repair_memory();

// The same for operator new in this program.
void fail_new(long n);
bool repair_new();
bool new_strikes();  // counts down; for operator new itself

}  // namespace evenleg::store_test
