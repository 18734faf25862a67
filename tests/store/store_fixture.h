// What the tests of the house file share: a folder of their own, a house that uses every key, and
// the fault that a refused call gives.
#pragma once

#include <doctest/doctest.h>

#include <filesystem>
#include <functional>
#include <set>
#include <string>

#include "evenleg/base/error.h"
#include "evenleg/house/house.h"

namespace evenleg::store_test {

// An empty folder that every user may enter, removed at the end.
class Folder {
 public:
  Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder();

  [[nodiscard]] std::filesystem::path operator/(const std::string& name) const {
    return path_ / name;
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  // The names of what is in it.
  [[nodiscard]] std::set<std::string> names() const;

 private:
  std::filesystem::path path_;
};

// Every key is used by at least one entry; round_trip_test.cc holds it to that.
[[nodiscard]] House every_key_house();

// Whether EVENLEG_FULL=1 asks for the long form of a test.
[[nodiscard]] bool in_full();

[[nodiscard]] std::string bytes_of(const std::filesystem::path& path);
void put_bytes(const std::filesystem::path& path, const std::string& bytes);

// Runs SQL on a file as another program could: without foreign keys and, if asked, without checks.
void run_sql(const std::filesystem::path& path, const std::string& sql, bool checks = true);

// Runs `work` in a child process; its exit status, or -1 when a signal ended it.
[[nodiscard]] int in_child(const std::function<int()>& work);
// The same without the rights of the superuser (as the user nobody, when the tests run as root).
[[nodiscard]] int in_plain_child(const std::function<int()>& work);

// "WHAT; REMEDY" of a call that must throw one Error(File); WHERE must be `path`.
template <class Call>
std::string refusal(const std::filesystem::path& path, Call call) {
  try {
    call();
  } catch (const Error& error) {
    CHECK(error.kind() == ErrorKind::File);
    REQUIRE(error.faults().size() == 1);
    CHECK(error.faults().front().where == path.string());
    return error.faults().front().what + "; " + error.faults().front().remedy;
  }
  return "nothing was refused";
}

}  // namespace evenleg::store_test
