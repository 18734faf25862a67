#include "tests/store/faulty_disk.h"

#include <doctest/doctest.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cstring>

namespace evenleg::store_test {
namespace {

struct State {
  long calls = 0;
  long fail_at = 0;  // 0: never
  DiskFault fault = DiskFault::Io;
  bool for_good = false;
  std::string struck;
};
State state;

sqlite3_vfs* sound = nullptr;

bool strikes(const char* what) {
  ++state.calls;
  constexpr useconds_t kSlow = 1000;
  if (state.fault == DiskFault::Slow) ::usleep(kSlow);
  if (state.fail_at == 0 || state.calls < state.fail_at) return false;
  if (state.calls > state.fail_at && !state.for_good) return false;
  if (state.struck.empty()) state.struck = what;
  return true;
}

// Behind it stands the sound layer's file, of a size that the layer tells.
struct File {
  sqlite3_file base;
  sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
  [[nodiscard]] const sqlite3_io_methods& methods() { return *real()->pMethods; }
};

File& as_file(sqlite3_file* file) { return *reinterpret_cast<File*>(file); }

int close(sqlite3_file* file) { return as_file(file).methods().xClose(as_file(file).real()); }

int read(sqlite3_file* file, void* bytes, int size, sqlite3_int64 at) {
  if (strikes("xRead")) return SQLITE_IOERR_READ;
  return as_file(file).methods().xRead(as_file(file).real(), bytes, size, at);
}

int write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 at) {
  if (strikes("xWrite")) {
    if (state.fault == DiskFault::Full) return SQLITE_FULL;
    (void)as_file(file).methods().xWrite(as_file(file).real(), bytes, size / 2, at);
    return SQLITE_IOERR_WRITE;
  }
  return as_file(file).methods().xWrite(as_file(file).real(), bytes, size, at);
}

int truncate(sqlite3_file* file, sqlite3_int64 size) {
  if (strikes("xTruncate")) return SQLITE_IOERR_TRUNCATE;
  return as_file(file).methods().xTruncate(as_file(file).real(), size);
}

int sync(sqlite3_file* file, int flags) {
  if (strikes("xSync")) return SQLITE_IOERR_FSYNC;
  return as_file(file).methods().xSync(as_file(file).real(), flags);
}

int file_size(sqlite3_file* file, sqlite3_int64* size) {
  if (strikes("xFileSize")) return SQLITE_IOERR_FSTAT;
  return as_file(file).methods().xFileSize(as_file(file).real(), size);
}

int lock(sqlite3_file* file, int level) {
  if (strikes("xLock")) return SQLITE_IOERR_LOCK;
  return as_file(file).methods().xLock(as_file(file).real(), level);
}

int unlock(sqlite3_file* file, int level) {
  return as_file(file).methods().xUnlock(as_file(file).real(), level);
}

int check_reserved_lock(sqlite3_file* file, int* result) {
  if (strikes("xCheckReservedLock")) return SQLITE_IOERR_CHECKRESERVEDLOCK;
  return as_file(file).methods().xCheckReservedLock(as_file(file).real(), result);
}

int file_control(sqlite3_file* file, int what, void* value) {
  return as_file(file).methods().xFileControl(as_file(file).real(), what, value);
}

int sector_size(sqlite3_file* file) {
  return as_file(file).methods().xSectorSize(as_file(file).real());
}

int characteristics(sqlite3_file* file) {
  return as_file(file).methods().xDeviceCharacteristics(as_file(file).real());
}

// Version 1: without shared memory and memory maps, which a rollback journal does not need.
sqlite3_io_methods faulty_methods() {
  sqlite3_io_methods methods{};
  methods.iVersion = 1;
  methods.xClose = close;
  methods.xRead = read;
  methods.xWrite = write;
  methods.xTruncate = truncate;
  methods.xSync = sync;
  methods.xFileSize = file_size;
  methods.xLock = lock;
  methods.xUnlock = unlock;
  methods.xCheckReservedLock = check_reserved_lock;
  methods.xFileControl = file_control;
  methods.xSectorSize = sector_size;
  methods.xDeviceCharacteristics = characteristics;
  return methods;
}

int open(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out_flags) {
  static const sqlite3_io_methods kMethods = faulty_methods();
  file->pMethods = nullptr;
  if (strikes("xOpen")) return SQLITE_CANTOPEN;
  sqlite3_file* const real = as_file(file).real();
  std::memset(real, 0, static_cast<std::size_t>(sound->szOsFile));
  const int code = sound->xOpen(sound, name, real, flags, out_flags);
  if (code == SQLITE_OK) file->pMethods = &kMethods;
  return code;
}

int remove(sqlite3_vfs*, const char* name, int sync_folder) {
  if (strikes("xDelete")) return SQLITE_IOERR_DELETE;
  return sound->xDelete(sound, name, sync_folder);
}

int access(sqlite3_vfs*, const char* name, int flags, int* result) {
  if (strikes("xAccess")) return SQLITE_IOERR_ACCESS;
  return sound->xAccess(sound, name, flags, result);
}

sqlite3_vfs faulty;

}  // namespace

FaultyDisk::FaultyDisk() {
  sound = sqlite3_vfs_find(nullptr);
  faulty = *sound;
  faulty.zName = "faulty";
  faulty.pNext = nullptr;
  faulty.szOsFile = static_cast<int>(sizeof(File)) + sound->szOsFile;
  faulty.xOpen = open;
  faulty.xDelete = remove;
  faulty.xAccess = access;
  REQUIRE(sqlite3_vfs_register(&faulty, 1) == SQLITE_OK);
  state = {};
}

FaultyDisk::~FaultyDisk() {
  sqlite3_vfs_register(sound, 1);
  sqlite3_vfs_unregister(&faulty);
}

void FaultyDisk::fail_at(long n, DiskFault fault, bool for_good) {
  state = {0, n, fault, for_good, ""};
}

void FaultyDisk::slow_down() { state = {0, 0, DiskFault::Slow, false, ""}; }

bool FaultyDisk::repair() {
  state.fail_at = 0;
  state.fault = DiskFault::Io;
  return !state.struck.empty();
}

const std::string& FaultyDisk::struck() const { return state.struck; }

long FaultyDisk::calls() const { return state.calls; }

}  // namespace evenleg::store_test
