// A data file, read key by key. Every fault is kept with its file:line:column, and reading goes on,
// so that one run names all of them; a value that is wrong reads as empty or 0.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"
#include "evenleg/base/error.h"

namespace evenleg {

enum class Allowed { Any, NotNegative, Positive };

// One table of a data file. It must not outlive its DataFile.
class Row {
 public:
  Row(Row&& other) noexcept;
  Row(const Row&) = delete;
  Row& operator=(Row&&) = delete;
  Row& operator=(const Row&) = delete;
  ~Row();

  // Keys that must be there.
  [[nodiscard]] std::string text(std::string_view key);
  [[nodiscard]] double number(std::string_view key, Allowed allowed);
  [[nodiscard]] bool flag(std::string_view key);
  [[nodiscard]] Row table(std::string_view key);
  [[nodiscard]] std::vector<Row> rows(std::string_view key);  // at least one
  [[nodiscard]] Citation citation(std::string_view key);      // a table with all of its five texts

  // Keys that may be absent.
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] std::optional<std::string> text_if(std::string_view key);
  [[nodiscard]] std::optional<double> number_if(std::string_view key, Allowed allowed);
  // Exactly `count` numbers above 0; empty when absent or wrong.
  [[nodiscard]] std::vector<double> numbers_if(std::string_view key, std::size_t count);

  // A list of texts; empty when absent or wrong.
  [[nodiscard]] std::vector<std::string> texts_if(std::string_view key);

  // The keys of this table that hold tables.
  [[nodiscard]] std::vector<std::string> table_keys() const;

  // A fault that the caller found in the value of `key`.
  void refuse(std::string_view key, std::string what, std::string remedy);

  // To be called when all keys were asked for: each other key is a fault.
  void end();

 private:
  friend class DataFile;
  struct State;
  explicit Row(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

class DataFile {
 public:
  // `where` stands for the file in faults. A text that is not TOML gives one fault and no root.
  DataFile(std::string where, std::string_view text);
  ~DataFile();
  DataFile(const DataFile&) = delete;
  DataFile& operator=(const DataFile&) = delete;

  [[nodiscard]] std::optional<Row> root();
  [[nodiscard]] std::vector<Fault> faults() const;  // in text order

 private:
  friend class Row;
  struct Document;
  std::unique_ptr<Document> document_;
};

}  // namespace evenleg
