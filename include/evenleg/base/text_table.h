// An aligned table in plain text: words to the left, figures to the right, two spaces between
// columns, a rule under the heading, at most 100 columns wide (the widest text column gives way).
#pragma once

#include <string>
#include <vector>

namespace evenleg {

inline constexpr int kPageColumns = 100;

enum class Align { Left, Right };

struct Column {
  std::string heading;
  Align align = Align::Left;
};

class TextTable {
 public:
  explicit TextTable(std::vector<Column> columns) : columns_(std::move(columns)) {}

  // Requires: as many cells as columns.
  void add(std::vector<std::string> cells);
  [[nodiscard]] bool empty() const { return rows_.empty(); }
  // The whole table, each line indented by `indent` and ended by '\n'.
  [[nodiscard]] std::string text(int indent = 2) const;

 private:
  std::vector<Column> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace evenleg
