#include "src/tables/conductor_names.h"

#include <charconv>
#include <vector>

#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

constexpr int kSmallestKcmil = 250;  // NEC chapter 9, table 8: kcmil sizes follow 4/0 AWG from here
constexpr std::string_view kSuperscriptTwo = "²";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return c >= 'a' && c <= 'z'; }

// In lower case, split at spaces and where a letter follows a digit: "12AWG Cu" has three words.
std::vector<std::string> words(std::string_view name) {
  std::vector<std::string> words;
  bool apart = true;
  for (std::size_t i = 0; i < name.size(); ++i) {
    char c = lower(name[i]);
    if (name.substr(i).starts_with(kSuperscriptTwo)) {
      c = '2';
      i += kSuperscriptTwo.size() - 1;
    }
    if (c == ' ' || c == '\t') {
      apart = true;
      continue;
    }
    if (!apart && is_letter(c) && is_digit(words.back().back())) apart = true;
    if (apart) words.emplace_back();
    apart = false;
    words.back() += c;
  }
  return words;
}

// Requires: `size` is not empty.
bool is_kcmil(const std::string& size) {
  int value = 0;
  const auto [end, error] = std::from_chars(size.data(), size.data() + size.size(), value);
  return error == std::errc() && end == size.data() + size.size() && value >= kSmallestKcmil;
}

}  // namespace

std::string plain_conductor_name(std::string_view name) {
  constexpr std::size_t kMostWords = 3;  // size, unit, metal
  const std::vector<std::string> parts = words(name);
  if (parts.size() < 2 || parts.size() > kMostWords) return {};
  const std::string& size = parts.front();
  const std::string& metal = parts.back();
  if (parts.size() == 2) return size + " " + metal;
  const std::string& unit = parts[1];
  if (unit == "mm2") return size + " mm2 " + metal;
  const bool fits = (unit == "awg" && !is_kcmil(size)) || (unit == "kcmil" && is_kcmil(size));
  return fits ? size + " " + metal : std::string();
}

const Conductor* find_conductor(const Tables& tables, std::string_view name) {
  const std::string plain = plain_conductor_name(name);
  if (plain.empty()) return nullptr;
  for (const Conductor& conductor : tables.conductors) {
    const std::string& known = conductor.name;
    bool same = known.size() == plain.size();
    for (std::size_t i = 0; same && i < plain.size(); ++i) same = lower(known[i]) == plain[i];
    if (same) return &conductor;
  }
  return nullptr;
}

}  // namespace evenleg
