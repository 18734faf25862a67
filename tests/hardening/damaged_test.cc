// Damaged descriptions and house files, by all commands: an answer or one clear refusal, never a
// crash, never a hang, never a changed file, never a number that is none.
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/resource.h>

#include <cctype>
#include <map>

#include "tests/hardening/damage.h"
#include "tests/hardening/program.h"

namespace evenleg::hardening {
namespace {

namespace fs = std::filesystem;

// "nan" or "inf" as a word by itself, which no answer says of a house that does not say it.
bool has_no_number(const std::string& text) {
  std::string word;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const char c = i < text.size() ? text[i] : ' ';
    if (std::isalnum(static_cast<unsigned char>(c)) != 0) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      continue;
    }
    if (word == "nan" || word == "inf" || word == "infinity") return true;
    word.clear();
  }
  return false;
}

// Whether every line that it wrote says who speaks.
bool is_told(const std::string& err) {
  if (err.empty() || err.back() != '\n') return false;
  for (std::size_t at = 0; at < err.size(); at = err.find('\n', at) + 1) {
    if (!err.substr(at).starts_with("evenleg: ")) return false;
  }
  return true;
}

const std::vector<Words>& commands() {
  static const std::vector<Words> kCommands{
      {"audit", "IN", "--no-proof", "--json"},
      {"show", "IN"},
      {"diagnose", "IN", "--no-proof", "--json"},
      {"balance", "IN", "--no-audit", "--json"},
      {"demand", "IN", "--json"},
      {"export", "IN"},
      {"readings", "IN"},
      {"report", "IN", "--no-proof", "--date", "2026-03-15"},
      {"neutral", "IN", "service", "--no-proof"},
      {"audit", "IN", "--no-proof"},
      {"show", "IN", "--json"},
      {"report", "IN", "--no-proof", "--date", "2026-03-15", "--for", "client", "--out", "-"}};
  return kCommands;
}

struct Tally {
  std::map<int, int> by_status;
  int answers = 0;

  [[nodiscard]] std::string words() const {
    std::string text = fmt::format("{} answers of other commands;", answers);
    for (const auto& [status, count] : by_status)
      text += fmt::format(" exit {}: {}", status, count);
    return text;
  }
};

void judge(const Ran& ran, const std::string& input, const Words& command, Tally& tally) {
  CAPTURE(fmt::format("{}", fmt::join(command, " ")));
  CAPTURE(ran.err);
  CHECK_FALSE(ran.timed_out);
  CHECK(ran.signal == 0);
  CHECK((ran.status == 0 || ran.status == 2 || ran.status == 3));
  if (ran.status != 0) CHECK(is_told(ran.err));
  if (!has_no_number(input)) CHECK_FALSE(has_no_number(ran.out));
  ++tally.by_status[ran.status];
}

// `check` on each, and one further command in turn.
void try_on(const fs::path& path, const std::string& input, int round, const Folder& folder,
            Tally& tally) {
  put_text(path, input);
  const std::vector<std::string> names = folder.names();
  const Words check{"check", path.filename().string()};
  const Ran checked = run(check, folder.path());
  judge(checked, input, check, tally);
  Words command = commands()[static_cast<std::size_t>(round) % commands().size()];
  for (std::string& word : command) {
    if (word == "IN") word = path.filename().string();
  }
  const Ran ran = run(command, folder.path());
  judge(ran, input, command, tally);
  ++tally.answers;
  CHECK(text_of(path) == input);
  CHECK(folder.names() == names);
}

// A damaged input that fails is kept beside the others, for a look at it.
TEST_CASE("damaged descriptions are answered or refused") {
  const std::string source = variable("EVENLEG_SOURCE_DIR");
  const std::string texts[] = {text_of(source + "/data/fernhill-cottage.toml"),
                               text_of(source + "/data/coopers-quay-apartment.toml"),
                               text_of(source + "/data/amselgrund.toml"),
                               text_of(source + "/tests/record/hostile-names.toml")};
  const Folder folder;
  Tally tally;
  const int all = rounds(160, 3000);
  for (int i = 0; i < all; ++i) {
    CAPTURE(i);
    Dice dice(static_cast<std::uint64_t>(i) + 1);
    try_on(folder / "a.toml", damaged_text(texts[static_cast<std::size_t>(i) % 4], dice), i / 4,
           folder, tally);
  }
  MESSAGE(all, " damaged descriptions: ", tally.words());
  CHECK(tally.by_status[0] > all / 4);
  CHECK(tally.by_status[2] > all / 4);
}

TEST_CASE("damaged house files are answered or refused, and stay as they are") {
  const std::string source = variable("EVENLEG_SOURCE_DIR");
  const Folder folder;
  std::vector<std::string> files;
  for (const char* house : {"fernhill-cottage", "coopers-quay-apartment", "amselgrund"}) {
    const Ran made =
        run({"new", "made.house", "--from", source + "/data/" + house + ".toml"}, folder.path());
    REQUIRE(made.status == 0);
    files.push_back(text_of(folder / "made.house"));
    fs::remove(folder / "made.house");
  }
  Tally tally;
  const int all = rounds(60, 600);
  for (int i = 0; i < all; ++i) {
    CAPTURE(i);
    Dice dice(static_cast<std::uint64_t>(i) + 1);
    const std::string bytes = damaged_file(files[static_cast<std::size_t>(i) % files.size()], dice);
    try_on(folder / "a.house", bytes, i / 3, folder, tally);
    const Words change{"set", "a.house", "service", "--breaker_a", "150"};
    const Ran changed = run(change, folder.path());
    judge(changed, "", change, tally);
    if (changed.status != 0) CHECK(text_of(folder / "a.house") == bytes);
    folder.empty();
  }
  MESSAGE(all, " damaged house files: ", tally.words());
  CHECK(tally.by_status[3] > all / 4);
}

TEST_CASE("a house file that may not grow is refused in one line, and stays as it is") {
  const Folder folder;
  const std::string source = variable("EVENLEG_SOURCE_DIR");
  put_text(folder / "a.toml", text_of(source + "/data/fernhill-cottage.toml"));
  REQUIRE(run({"new", "a.house", "--from", "a.toml"}, folder.path()).status == 0);
  const std::string bytes = text_of(folder / "a.house");
  rlimit before{};
  REQUIRE(::getrlimit(RLIMIT_FSIZE, &before) == 0);
  int refused = 0;
  for (const unsigned kilobytes : {0U, 1U, 4U, 8U, 16U, 32U, 48U}) {
    CAPTURE(kilobytes);
    rlimit limit = before;
    limit.rlim_cur = rlim_t{kilobytes} * 1024;
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &limit) == 0);
    const Ran set = run({"set", "a.house", "load", "Toaster", "--watts", "1234"}, folder.path());
    const Ran made = run({"new", "b.house", "--from", "a.toml"}, folder.path());
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &before) == 0);
    CHECK(set.signal == 0);
    CHECK((set.status == 0 || set.status == 3));
    CHECK(made.signal == 0);
    CHECK(made.status == 3);
    if (set.status == 0) break;
    ++refused;
    CHECK(run({"check", "a.house"}, folder.path()).status == 0);
    CHECK(text_of(folder / "a.house") == bytes);
    CHECK(folder.names() == Words{"a.house", "a.toml"});
  }
  CHECK(refused > 0);
}

}  // namespace
}  // namespace evenleg::hardening
