#include "src/describe/record_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

bool same_but_for_case(std::string_view a, std::string_view b) {
  const auto lower = [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 'a' - 'A') : c;
  };
  return std::ranges::equal(a, b, {}, lower, lower);
}

std::optional<std::string> meant(std::string_view text, const std::vector<std::string>& known) {
  for (const std::string& name : known) {
    if (same_but_for_case(text, name)) return name;
  }
  constexpr std::size_t kMostSuggestible =
      60;  // longer than any key or choice, spelled with errors
  // A single letter is as near to any other.
  const bool suggestible = text.size() > 1 && text.size() <= kMostSuggestible;
  return suggestible ? nearest(text, known) : std::nullopt;
}

constexpr int kShown = 60;  // columns of a name in a message

}  // namespace

std::string quoted_name(std::string_view name) {
  return fmt::format("\"{}\"", shortened(name, kShown));
}

std::string heading(std::string_view kind, bool several) {
  return several ? fmt::format("[[{}]]", kind) : fmt::format("[{}]", kind);
}

std::string suggestion(std::string_view text, const std::vector<std::string>& known,
                       std::string_view otherwise) {
  if (const auto near = meant(text, known)) return fmt::format("did you mean \"{}\"?", *near);
  return fmt::format("{} {}", otherwise, listed(known));
}

std::string wrong_type(std::string_view key, const toml::node& node, FieldType type,
                       const std::string& expected) {
  const toml::table* table = node.as_table();
  const bool spectrum = type == FieldType::Spectrum;
  if (table != nullptr && (spectrum || type == FieldType::Shares)) {
    for (const auto& [name, item] : *table) {
      if (item.is_number()) continue;
      return fmt::format("{} of {}{} = {}, and it must be a number", key, spectrum ? "order " : "",
                         spectrum ? shortened(name.str(), kShown) : quoted_name(name.str()),
                         shown(item));
    }
  }
  return fmt::format("{} = {}, and it must be {}", key, shown(node), expected);
}

std::string remedy_for_type(const toml::node& node, FieldType type) {
  const bool wants_list = type == FieldType::TextList || type == FieldType::WholeList;
  const bool list_of_one = (type == FieldType::TextList && node.is_string()) ||
                           (type == FieldType::WholeList && node.is_integer());
  if (list_of_one) return "write it in brackets, even where there is only one";
  if (type == FieldType::Text && !node.is_array() && !node.is_table()) return "write it in quotes";
  if (node.is_string() && !wants_list && type != FieldType::Shares &&
      type != FieldType::Spectrum) {
    return "write it without quotes";
  }
  return "correct it";
}

std::string remedy_for_value(const toml::node& node, const std::vector<std::string>& choices) {
  const auto* text = node.as_string();
  if (choices.empty() || !text) return "correct it";
  return suggestion(text->get(), choices, "use one of");
}

bool carries_others(std::string_view kind) {
  constexpr std::array<std::string_view, 4> kLeaves{"load", "scenario", "reading", "finding"};
  return std::ranges::find(kLeaves, kind) == kLeaves.end();
}

}  // namespace evenleg
