// Damaged files: refused in one line or read, but never a crash, and never changed by reading.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "evenleg/store/store.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

constexpr std::size_t kHeaderBytes = 100;  // "SQLite Database File Format", section 1.3

// Reads a file in every way; true when the reader refused it.
bool survives(const fs::path& path, const std::string& bytes) {
  put_bytes(path, bytes);
  bool refused = false;
  try {
    (void)load_house(path);
  } catch (const Error& error) {
    refused = true;
    CHECK(error.kind() == ErrorKind::File);
    REQUIRE(error.faults().size() == 1);
    CHECK(error.faults().front().where == path.string());
    CHECK_FALSE(error.faults().front().remedy.empty());
  }
  const bool sound = bytes.empty() ? false : check_house_file(path).empty();
  if (refused) CHECK_FALSE(sound);
  CHECK(bytes_of(path) == bytes);
  return refused;
}

TEST_CASE("store: a flipped byte is refused or read, never a crash") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string whole = bytes_of(path);
  constexpr std::size_t kStride = 151;  // a prime, so that every part of a page has its turn
  int refused = 0;
  for (std::size_t at = 0; at < whole.size(); at += at < kHeaderBytes ? 1 : kStride) {
    CAPTURE(at);
    std::string bytes = whole;
    bytes[at] = static_cast<char>(~bytes[at]);
    if (survives(path, bytes)) ++refused;
  }
  CHECK(refused > 0);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: a page of zeros or of noise is refused or read, never a crash") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string whole = bytes_of(path);
  constexpr std::size_t kPage = 1024;
  for (const char filling : {'\0', '\xff', 'x'}) {
    for (std::size_t at = 0; at + kPage <= whole.size(); at += kPage) {
      CAPTURE(at);
      std::string bytes = whole;
      bytes.replace(at, kPage, kPage, filling);
      if (at == 0) {
        CHECK(survives(path, bytes));
      } else {
        (void)survives(path, bytes);
        CHECK_FALSE(check_house_file(path).empty());
      }
    }
  }
}

TEST_CASE("store: a file that was cut short is refused and told by the check") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string whole = bytes_of(path);
  constexpr std::size_t kStep = 509;  // a prime near half a page: whole pages and parts
  for (std::size_t size = whole.size() - 1; size > 0; size -= std::min(size, kStep)) {
    CAPTURE(size);
    (void)survives(path, whole.substr(0, size));
    CHECK_FALSE(check_house_file(path).empty());
  }
  CHECK(refusal(path, [&] { (void)load_house(path); }) != "nothing was refused");
}

TEST_CASE("store: a damaged file is refused by a change, which leaves it as it is") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  std::string bytes = bytes_of(path);
  bytes.resize(bytes.size() / 2);
  put_bytes(path, bytes);
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) ==
        "is damaged (database disk image is malformed); restore a copy of it");
  CHECK(bytes_of(path) == bytes);
}

TEST_CASE("store: broken references are told by the check, each with its table") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  run_sql(path,
          "UPDATE circuit SET panel = 'Shed' WHERE position = 0;"
          "UPDATE outlet SET \"on\" = 'Attic' WHERE position = 0;"
          "UPDATE reading SET at = 'Roof' WHERE position = 1");
  CHECK(check_house_file(path) ==
        std::vector<std::string>{
            "table circuit: panel names a panel that is not there",
            "table outlet: on = \"Attic\", and no circuit or multiwire has that name",
            "table reading: at = \"Roof\", and no panel or outlet has that name"});
}

}  // namespace
}  // namespace evenleg
