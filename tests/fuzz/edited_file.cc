#include "tests/fuzz/edited_file.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <fstream>
#include <iterator>
#include <optional>
#include <string_view>

#include "evenleg/store/store.h"
#include "src/store/schema.h"
#include "tests/describe/full_house.h"

namespace evenleg::fuzz {
namespace {

// ---- samples ----------------------------------------------------------------------------------

constexpr const char* kLoosen = R"sql(
PRAGMA writable_schema = ON;
UPDATE sqlite_schema SET sql = replace(replace(sql, 'STRICT, WITHOUT', 'WITHOUT'), 'STRICT', '');
UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (', 'CHECK (1 OR ');
PRAGMA writable_schema = OFF;
)sql";

constexpr const char* kAppliedPlan =
    "INSERT INTO applied_plan VALUES (0, 0, 'circuit', 'Counter left', 'space', '5', '7')";

// Rows as version 1 wrote them, in every table that a migration touches.
constexpr const char* kOldRows = R"sql(
INSERT INTO house VALUES ('name', 'Old');
INSERT INTO supply VALUES (0, '120/240 split-phase');
INSERT INTO panel (position, name, spaces) VALUES (0, 'Main', 4);
INSERT INTO circuit (position, name, panel, space, poles, protection, locked)
  VALUES (0, 'Well', 'Main', 1, 1, 'standard', 0);
INSERT INTO load (position, name, at, kind, amps, leading, "on", switching)
  VALUES (0, 'Pump', 'Well', 'motor', 9.8, 0, 1, 'free');
INSERT INTO scenario VALUES (0, 'Evening');
INSERT INTO scenario_on VALUES (0, 0, 'Pump');
INSERT INTO reading (position, at, l1_n_volts) VALUES (0, 'Main', 118.9);
)sql";

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

Sample sample_of(const std::string& path, const std::string& edits) {
  SQLite::Database file(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  file.exec(edits);
  Sample sample{bytes_of(path), {}};
  SQLite::Statement names(file, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY 1");
  while (names.executeStep()) {
    SampleTable table{names.getColumn(0).getString(), {}};
    SQLite::Statement columns(file, "SELECT name FROM pragma_table_info(?)");
    columns.bind(1, table.name);
    while (columns.executeStep()) table.columns.push_back(columns.getColumn(0).getString());
    sample.tables.push_back(std::move(table));
  }
  return sample;
}

// ---- edits ------------------------------------------------------------------------------------

// Bytes from the front; zero where there are no more.
class Bytes {
 public:
  explicit Bytes(std::span<const std::uint8_t> rest) : rest_(rest) {}
  [[nodiscard]] bool empty() const { return rest_.empty(); }
  std::uint8_t byte() {
    if (rest_.empty()) return 0;
    const std::uint8_t first = rest_.front();
    rest_ = rest_.subspan(1);
    return first;
  }
  template <class Number>
  Number number() {
    std::array<std::uint8_t, sizeof(Number)> raw{};
    for (std::uint8_t& one : raw) one = byte();
    Number value;
    std::memcpy(&value, raw.data(), sizeof value);
    return value;
  }
  std::string text() {
    const std::size_t size = std::min<std::size_t>(byte(), rest_.size());
    std::string taken(reinterpret_cast<const char*>(rest_.data()), size);
    rest_ = rest_.subspan(size);
    return taken;
  }

 private:
  std::span<const std::uint8_t> rest_;
};

// A database in memory that starts as the sample.
class Edited {
 public:
  Edited(const Sample& sample, Bytes bytes)
      : sample_(sample), bytes_(bytes), file_(":memory:", SQLite::OPEN_READWRITE) {
    const auto size = static_cast<sqlite3_int64>(sample.bytes.size());
    auto* const copy = static_cast<unsigned char*>(sqlite3_malloc64(sample.bytes.size()));
    std::memcpy(copy, sample.bytes.data(), sample.bytes.size());
    sqlite3_deserialize(file_.getHandle(), "main", copy, size, size,
                        SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_RESIZEABLE);
    file_.exec("PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF; BEGIN");
  }

  std::string run() {
    constexpr int kMostEdits = 32;
    for (int n = 0; n < kMostEdits && !bytes_.empty(); ++n) edit();
    file_.exec("COMMIT");
    sqlite3_int64 size = 0;
    unsigned char* const made = sqlite3_serialize(file_.getHandle(), "main", &size, 0);
    std::string file(reinterpret_cast<const char*>(made), static_cast<std::size_t>(size));
    sqlite3_free(made);
    for (const auto& [at, value] : patches_) file[at % file.size()] = static_cast<char>(value);
    if (keep_) file.resize(file.size() * *keep_ / kShares);
    return file;
  }

 private:
  void edit() {
    constexpr int kKinds = 8;
    switch (bytes_.byte() % kKinds) {
      case 0:
        return patch();
      case 1:
        return change_schema();
      case 2:
        return add_row();
      case 3:
        keep_ = bytes_.byte();
        return;
      default:  // the rest, since cells are most of what a file holds
        return set_cell();
    }
  }

  // Bytes of the file, once all other edits are done.
  void patch() {
    const std::size_t at = bytes_.number<std::uint16_t>();
    patches_.emplace_back(at, bytes_.byte());
  }

  const SampleTable& table() { return sample_.tables[bytes_.byte() % sample_.tables.size()]; }

  void bind_value(SQLite::Statement& statement) {
    constexpr int kKinds = 6;
    switch (bytes_.byte() % kKinds) {
      case 0:
        return statement.bind(1);
      case 1:
        return statement.bind(1,
                              static_cast<std::int32_t>(static_cast<std::int8_t>(bytes_.byte())));
      case 2:
        return statement.bind(1, bytes_.number<std::int64_t>());
      case 3:
        return statement.bind(1, bytes_.number<double>());
      case 4:
        return statement.bind(1, bytes_.text());
      default: {
        const std::string blob = bytes_.text();
        return statement.bind(1, blob.data(), static_cast<int>(blob.size()));
      }
    }
  }

  // What SQLite refuses is an edit that changes nothing.
  template <class Work>
  static void attempt(Work work) {
    try {
      work();
    } catch (const SQLite::Exception&) {
    }
  }

  // The column that tells the rows of a table apart, though not alone in every table.
  static std::string key_of(const SampleTable& table) {
    for (const char* key : {"position", "key", "item"}) {
      if (std::find(table.columns.begin(), table.columns.end(), key) != table.columns.end()) {
        return key;
      }
    }
    return table.columns.front();
  }

  void set_cell() {
    const SampleTable& in = table();
    const std::string& column = in.columns[bytes_.byte() % in.columns.size()];
    const int row = bytes_.byte();
    attempt([&] {
      SQLite::Statement update(
          file_, fmt::format("UPDATE \"{0}\" SET \"{1}\" = ?1 WHERE \"{2}\" = (SELECT \"{2}\" FROM "
                             "\"{0}\" LIMIT 1 OFFSET {3} % max(1, (SELECT count(*) FROM \"{0}\")))",
                             in.name, column, key_of(in), row));
      bind_value(update);
      update.exec();
    });
  }

  // A copy of a row, but for one cell.
  void add_row() {
    const SampleTable& in = table();
    const std::size_t changed = bytes_.byte() % in.columns.size();
    std::string cells;
    for (std::size_t i = 0; i < in.columns.size(); ++i) {
      cells += (i == 0 ? "" : ", ") + (i == changed ? "?1" : '"' + in.columns[i] + '"');
    }
    attempt([&] {
      SQLite::Statement insert(
          file_,
          fmt::format("INSERT INTO \"{0}\" SELECT {1} FROM \"{0}\" LIMIT 1", in.name, cells));
      bind_value(insert);
      insert.exec();
    });
  }

  void change_schema() {
    constexpr std::array<const char*, 12> kChanges{
        "DELETE FROM \"{0}\"",
        "DROP TABLE \"{0}\"",
        "ALTER TABLE \"{0}\" RENAME TO other",
        "ALTER TABLE \"{0}\" RENAME COLUMN \"{1}\" TO other",
        "ALTER TABLE \"{0}\" ADD COLUMN other TEXT NOT NULL DEFAULT 'x' CHECK (other <> {2})",
        "CREATE UNIQUE INDEX other ON \"{0}\" (\"{1}\") WHERE \"{1}\" > {2}",
        "CREATE VIEW other AS SELECT \"{1}\" FROM \"{0}\"",
        "CREATE TRIGGER other AFTER INSERT ON \"{0}\" BEGIN DELETE FROM \"{0}\"; END",
        "PRAGMA user_version = {2}",
        "PRAGMA application_id = {2}",
        // A table whose place a view takes that never ends.
        "DROP TABLE \"{0}\"; CREATE VIEW \"{0}\" AS WITH RECURSIVE n (\"{1}\") AS (SELECT {2} "
        "UNION "
        "ALL SELECT \"{1}\" + 1 FROM n) SELECT * FROM n",
        // A column that a formula fills with as much as it likes.
        "ALTER TABLE \"{0}\" DROP COLUMN \"{1}\"; "
        "ALTER TABLE \"{0}\" ADD COLUMN \"{1}\" AS (hex(zeroblob({2} * 100000)))",
    };
    const char* const change = kChanges[bytes_.byte() % kChanges.size()];
    const SampleTable& in = table();
    const std::string& column = in.columns[bytes_.byte() % in.columns.size()];
    const int number = static_cast<std::int8_t>(bytes_.byte());
    attempt([&] { file_.exec(fmt::format(fmt::runtime(change), in.name, column, number)); });
  }

  static constexpr std::size_t kShares = 256;  // of a file that is cut short

  const Sample& sample_;
  Bytes bytes_;
  SQLite::Database file_;
  std::vector<std::pair<std::size_t, std::uint8_t>> patches_;
  std::optional<std::size_t> keep_;
};

// One in eight is the old one, which costs four times as much to read.
std::size_t sample_for(std::uint8_t choice) {
  constexpr std::uint8_t kOldFrom = 224, kOld = 2;
  return choice >= kOldFrom ? kOld : choice % kOld;
}

}  // namespace

std::vector<Sample> make_samples(const std::string& folder) {
  const std::string present = folder + "/present", loose = folder + "/loose", old = folder + "/old";
  create_house_file(present, full_house());
  create_house_file(loose, full_house());
  const std::string first = fmt::format(
      "PRAGMA page_size = 1024; {} {} PRAGMA user_version = 1; "
      "PRAGMA application_id = {};",
      migrations()[0], kOldRows, kApplicationId);
  return {sample_of(present, kAppliedPlan),
          sample_of(loose, std::string(kAppliedPlan) + ";" + kLoosen),
          sample_of(old, first + kLoosen)};
}

std::string edited_file(std::span<const Sample> samples, std::span<const std::uint8_t> input) {
  constexpr std::string_view kDatabase = "SQLite format 3";
  const std::string_view raw(reinterpret_cast<const char*>(input.data()), input.size());
  if (raw.starts_with(kDatabase)) return std::string(raw);
  Bytes bytes(input);
  const Sample& sample = samples[sample_for(bytes.byte())];
  return Edited(sample, bytes).run();
}

}  // namespace evenleg::fuzz
