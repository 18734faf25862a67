#include "src/edit/schedule_cells.h"

#include <algorithm>
#include <cctype>
#include <charconv>

namespace evenleg {
namespace {

std::string bare(std::string_view cell) {
  const auto outer = [](char c) { return c == ' ' || c == '\r' || c == '"' || c == '\t'; };
  while (!cell.empty() && outer(cell.front())) cell.remove_prefix(1);
  while (!cell.empty() && outer(cell.back())) cell.remove_suffix(1);
  std::string text(cell);
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < ' ') c = ' ';
  }
  return text;
}

// Cells of one line; a separator within quotes parts nothing.
std::vector<std::string> cells_in(std::string_view line, char separator) {
  std::vector<std::string> cells;
  std::size_t from = 0;
  bool quoted = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quoted = !quoted;
    if (i < line.size() && (line[i] != separator || quoted)) continue;
    cells.push_back(bare(line.substr(from, i - from)));
    from = i + 1;
  }
  return cells;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

constexpr double kLeastBreaker = 5;  // amperes that a dwelling's breakers have, with margin
constexpr double kMostBreaker = 400;

}  // namespace

std::vector<std::vector<std::string>> cells_of(std::string_view text) {
  const char separator = text.find('\t') != std::string_view::npos  ? '\t'
                         : text.find(';') != std::string_view::npos ? ';'
                                                                    : ',';
  std::vector<std::vector<std::string>> lines;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t end = std::min(text.find_first_of("\n\r", from), text.size());
    lines.push_back(cells_in(text.substr(from, end - from), separator));
    const bool both = end + 1 < text.size() && text[end] == '\r' && text[end + 1] == '\n';
    from = end + (both ? 2 : 1);
  }
  return lines;
}

std::vector<std::string> part_of(const std::vector<std::string>& cells, std::size_t from,
                                 std::size_t to) {
  const auto begin = cells.begin();
  return {begin + static_cast<std::ptrdiff_t>(std::min(from, cells.size())),
          begin + static_cast<std::ptrdiff_t>(std::min(to, cells.size()))};
}

std::vector<std::size_t> halves_by_look(const std::vector<std::string>& cells) {
  std::optional<int> first;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const auto whole = whole_in(cells[i]);
    if (!whole) continue;
    if (first && *first % 2 == 1 && *whole == *first + 1) return {0, i};
    if (!first) first = whole;
  }
  return {0};
}

std::string plain_word(std::string_view text) {
  std::string word;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '#' || c == '-' || std::isalnum(byte) != 0) {
      word += static_cast<char>(std::tolower(byte));
    }
  }
  return word;
}

std::optional<int> whole_in(std::string_view cell) {
  int whole = 0;
  const char* end = cell.data() + cell.size();
  const auto [stop, error] = std::from_chars(cell.data(), end, whole);
  if (cell.empty() || error != std::errc{} || stop != end) return std::nullopt;
  return whole;
}

std::optional<double> number_in(std::string_view cell) {
  double number = 0;
  const char* end = cell.data() + cell.size();
  const auto [stop, error] = std::from_chars(cell.data(), end, number);
  if (cell.empty() || error != std::errc{} || stop != end) return std::nullopt;
  return number;
}

bool take_breaker(const std::string& cell, ScheduleRow& row) {
  std::vector<int> numbers;
  std::string letters;
  for (std::size_t i = 0; i < cell.size();) {
    if (is_digit(cell[i])) {
      int number = 0;
      const auto [stop, error] =
          std::from_chars(cell.data() + i, cell.data() + cell.size(), number);
      if (error != std::errc{}) return false;
      numbers.push_back(number);
      i = static_cast<std::size_t>(stop - cell.data());
      continue;
    }
    if (cell[i] != ' ' && cell[i] != '/' && cell[i] != '-') {
      letters += static_cast<char>(std::tolower(static_cast<unsigned char>(cell[i])));
    }
    ++i;
  }
  const bool only_units = letters.empty() || letters == "a" || letters == "amp" ||
                          letters == "amps" || letters == "p" || letters == "ap" || letters == "pa";
  if (!only_units || numbers.empty() || numbers.size() > 2) return false;
  const double amperes = *std::max_element(numbers.begin(), numbers.end());
  if (amperes < kLeastBreaker || amperes > kMostBreaker) return false;
  row.breaker_a = amperes;
  if (numbers.size() == 2) row.poles = *std::min_element(numbers.begin(), numbers.end());
  return true;
}

std::optional<std::string> conductor_in(const std::string& cell, const Vocabulary& vocabulary) {
  std::string name = cell;
  std::erase(name, '#');
  if (name.empty()) return std::nullopt;
  if (vocabulary.knows_conductor(name)) return name;
  for (const std::string_view cores :
       {"", "/2", "/3", "-2", "-3"}) {  // "12/2": a cable's two cores
    if (!name.ends_with(cores) || name.size() == cores.size()) continue;
    std::string copper = name.substr(0, name.size() - cores.size()) + " Cu";
    if (vocabulary.knows_conductor(copper)) return copper;
  }
  return std::nullopt;
}

void take_space(const std::string& cell, ScheduleRow& row) {
  std::vector<int> numbers;
  for (std::size_t from = 0; from <= cell.size();) {
    const std::size_t end = std::min(cell.find_first_of(",/-& ", from), cell.size());
    if (end > from) {
      const auto number = whole_in(std::string_view(cell).substr(from, end - from));
      if (!number) return;
      numbers.push_back(*number);
    }
    from = end + 1;
  }
  if (numbers.empty()) return;
  row.space = numbers.front();
  if (numbers.size() > 1) row.poles = (numbers.back() - numbers.front()) / 2 + 1;
}

}  // namespace evenleg
