// A house file from a stranger gives a house or an Error, is judged alike by load_house() and
// check_house_file(), and has the same bytes afterwards. A house that came out of one and is valid
// survives as a description.
//
// An input is what edited_file() takes: bytes of a file, or edits of a sample.
#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/validate.h"
#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"
#include "tests/fuzz/edited_file.h"
#include "tests/fuzz/holds.h"
#include "tests/fuzz/memory_folder.h"

using namespace evenleg;

namespace {

namespace fs = std::filesystem;

// One file, opened once: a new one for each input would cost more than reading it.
class File {
 public:
  explicit File(const std::string& path) : file_(::open(path.c_str(), O_RDWR | O_CREAT, 0600)) {
    fuzz::holds(file_ >= 0, "a file can be made");
  }
  ~File() { ::close(file_); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;

  void put(const std::string& bytes) const {
    fuzz::holds(::ftruncate(file_, static_cast<off_t>(bytes.size())) == 0 &&
                    ::pwrite(file_, bytes.data(), bytes.size(), 0) == std::ssize(bytes),
                "the file can be written");
  }
  [[nodiscard]] std::string bytes() const {
    std::string read(static_cast<std::size_t>(::lseek(file_, 0, SEEK_END)), '\0');
    fuzz::holds(::pread(file_, read.data(), read.size(), 0) == std::ssize(read),
                "the file can be read");
    return read;
  }

 private:
  int file_;
};

std::optional<House> loaded(const std::string& path) {
  try {
    return load_house(path);
  } catch (const Error& error) {
    fuzz::holds(error.kind() == ErrorKind::File && error.faults().size() == 1, "told as one fault");
    return std::nullopt;
  }
}

// No fault of the file; one that cannot be opened counts as one.
bool sound(const std::string& path) {
  try {
    return check_house_file(path).empty();
  } catch (const Error& error) {
    fuzz::holds(error.kind() == ErrorKind::File && !error.faults().empty(), "told as a fault");
    return false;
  }
}

void survives_as_description(const House& house, const Vocabulary& words) {
  if (!validate(house, words).empty()) return;
  fuzz::holds(read_description(write_description(house), "written", words) == house,
              "the same house when described");
}

}  // namespace

// Read by the address sanitizer. SQLite asks for memory so often that to note where from, and to
// keep what it gave back for long, would take half of the time.
extern "C" const char* __asan_default_options() {
  return "malloc_context_size=2:quarantine_size_mb=8";
}

extern "C" int LLVMFuzzerInitialize(int*, char***) {
  sqlite3_config(SQLITE_CONFIG_SINGLETHREAD);
  sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const fuzz::MemoryFolder kFolder;
  static const std::vector<fuzz::Sample> kSamples = fuzz::make_samples(kFolder.path());
  static const std::string kPath = kFolder.path() + "/a.house";
  static const File kFile(kPath);
  static const Vocabulary kWords = vocabulary(load_tables());
  const std::string bytes = fuzz::edited_file(kSamples, {data, size});
  kFile.put(bytes);
  const std::optional<House> house = loaded(kPath);
  const bool is_sound = sound(kPath);
  fuzz::holds(house.has_value() || !is_sound, "a sound file can be read");
  fuzz::holds(kFile.bytes() == bytes, "the file is as it was");
  for (const char* beside : {"-journal", "-wal", "-shm"}) {
    fuzz::holds(!fs::exists(kPath + beside), "nothing is left beside the file");
  }
  if (house) survives_as_description(*house, kWords);
  return 0;
}
