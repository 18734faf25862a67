#include "tests/hardening/damage.h"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <vector>

namespace evenleg::hardening {
namespace {

std::size_t below(std::size_t most, Dice& dice) {
  return most == 0 ? 0 : static_cast<std::size_t>(dice() % most);
}

char any_byte(Dice& dice) { return static_cast<char>(dice() & 0xffU); }

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

// The n-th number or the n-th quoted string of the text, as a range; none: empty.
std::pair<std::size_t, std::size_t> any_value(const std::string& text, bool quoted, Dice& dice) {
  std::vector<std::pair<std::size_t, std::size_t>> found;
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::size_t end = i;
    if (quoted && text[i] == '"') {
      end = text.find('"', i + 1);
      if (end == std::string::npos) break;
      ++end;
    } else if (!quoted && std::isdigit(static_cast<unsigned char>(text[i])) != 0) {
      end = std::min(text.find_first_not_of("0123456789.eE_-", i), text.size());
    }
    if (end > i) {
      found.emplace_back(i, end - i);
      i = end - 1;
    }
  }
  return found.empty() ? std::pair<std::size_t, std::size_t>{} : found[below(found.size(), dice)];
}

void change_number(std::string& text, Dice& dice) {
  static constexpr std::string_view kNumbers[] = {
      "0",      "-1",     "-0.0",       "1e308",
      "-1e308", "5e-324", "nan",        "inf",
      "1e-9",   "0.01",   "1e6",        "1000001",
      "0x10",   "1e400",  "0.5",        "99999999999999999999",
      "200",    "3",      "[1, 2]",     "true",
      "\"7\"",  "1.0.0",  "2026-13-45", "1e5",
      "10000",  "10001",  "1e-300",     "0.1",
      "{}",     "-",      "9e15",       "4294967297"};
  const auto [at, size] = any_value(text, false, dice);
  if (size > 0) text.replace(at, size, kNumbers[below(std::size(kNumbers), dice)]);
}

void change_string(std::string& text, Dice& dice) {
  const auto [at, size] = any_value(text, true, dice);
  const auto [from, length] = any_value(text, true, dice);
  if (size == 0) return;
  static const std::string kOthers[] = {"\"\"",        "\"" + std::string(201, 'x') + "\"",
                                        "\"\\u0000\"", "\"\\u202e\"",
                                        "'",           "\"\"\"",
                                        "\"L1\"",      "\"L3\"",
                                        "\"240\"",     "\"free\"",
                                        "\"\\n\"",     "\"=1+1\"",
                                        "\"../x\"",    "\"%s%n\""};
  const std::string other =
      dice() % 2 == 0 ? text.substr(from, length) : kOthers[below(std::size(kOthers), dice)];
  text.replace(at, size, other);
}

void change_lines(std::string& text, Dice& dice) {
  std::vector<std::string> lines = lines_of(text);
  const std::size_t at = below(lines.size(), dice), other = below(lines.size(), dice);
  switch (dice() % 4) {
    case 0:
      lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
      break;
    case 1:
      std::swap(lines[at], lines[other]);
      break;
    case 2:
      lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at), lines[other]);
      break;
    default:
      lines.resize(at + 1);
      break;
  }
  text = joined(lines);
}

void change_bytes(std::string& text, Dice& dice) {
  if (text.empty()) return;
  const std::size_t at = below(text.size(), dice);
  constexpr std::string_view kMarks = "[]{}\"'=.,#\n\\";
  switch (dice() % 5) {
    case 0:
      text[at] = any_byte(dice);
      break;
    case 1:
      text.erase(at, 1 + below(40, dice));
      break;
    case 2:
      text.insert(at, 1, kMarks[below(kMarks.size(), dice)]);
      break;
    case 3:
      text.insert(at, text.substr(below(text.size(), dice), below(200, dice)));
      break;
    default:
      text[at] = static_cast<char>(text[at] ^ (1 << (dice() % 8)));
      break;
  }
}

}  // namespace

std::string damaged_text(std::string text, Dice& dice) {
  const std::size_t slips = dice() % 2 == 0 ? 1 : 1 + below(4, dice);
  for (std::size_t i = 0; i < slips; ++i) {
    switch (dice() % 8) {
      case 0:
      case 1:
      case 2:
        change_number(text, dice);
        break;
      case 3:
      case 4:
        change_string(text, dice);
        break;
      case 5:
      case 6:
        change_lines(text, dice);
        break;
      default:
        change_bytes(text, dice);
        break;
    }
  }
  return text;
}

std::string damaged_file(std::string bytes, Dice& dice) {
  constexpr std::size_t kPage = 1024;
  const std::size_t slips = 1 + below(3, dice);
  for (std::size_t i = 0; i < slips && !bytes.empty(); ++i) {
    const std::size_t at = below(bytes.size(), dice);
    const std::size_t page = at / kPage * kPage, other = below(bytes.size(), dice) / kPage * kPage;
    switch (dice() % 7) {
      case 0:
        bytes[at] = any_byte(dice);
        break;
      case 1:
        bytes[at] = static_cast<char>(bytes[at] ^ (1 << (dice() % 8)));
        break;
      case 2:
        bytes[below(std::min<std::size_t>(100, bytes.size()), dice)] = any_byte(dice);
        break;
      case 3:
        bytes.resize(at);
        break;
      case 4:
        bytes.append(below(3000, dice), any_byte(dice));
        break;
      case 5:
        bytes.replace(page, kPage, bytes.substr(other, kPage));
        break;
      default: {
        const std::size_t size = std::min<std::size_t>(1 + below(64, dice), bytes.size() - at);
        for (std::size_t b = 0; b < size; ++b) bytes[at + b] = any_byte(dice);
      }
    }
  }
  return bytes;
}

}  // namespace evenleg::hardening
