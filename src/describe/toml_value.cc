#include "src/describe/toml_value.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <locale>
#include <sstream>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

constexpr int kShownValue = 60;  // columns of a value in a message

template <class Temporal>
std::string text_of_time(const Temporal& time) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << time;
  return out.str();
}

// A number with a point or an exponent, so that it is not taken for a whole one.
std::string text_of_number(double number) {
  const std::string text = exact(number);
  return text.find_first_of(".en") == std::string::npos ? text + ".0" : text;
}

std::optional<double> number_in(const toml::node& node) {
  if (const auto* whole = node.as_integer()) return static_cast<double>(whole->get());
  if (const auto* number = node.as_floating_point()) return number->get();
  return std::nullopt;
}

std::optional<int> small_whole_in(const toml::node& node) {
  const auto* whole = node.as_integer();
  using Limits = std::numeric_limits<int>;
  if (!whole || whole->get() < Limits::min() || whole->get() > Limits::max()) return std::nullopt;
  return static_cast<int>(whole->get());
}

std::optional<std::string> string_in(const toml::node& node) {
  const auto* text = node.as_string();
  return text ? std::optional(text->get()) : std::nullopt;
}

std::optional<std::string> time_in(const toml::node& node) {
  if (const auto* date = node.as_date()) return text_of_time(date->get());
  if (const auto* both = node.as_date_time()) return text_of_time(both->get());
  return std::nullopt;
}

template <class Element>
std::optional<Value> list_in(const toml::node& node,
                             std::optional<Element> (*element_in)(const toml::node&)) {
  const toml::array* array = node.as_array();
  if (!array) return std::nullopt;
  std::vector<Element> list;
  for (const toml::node& item : *array) {
    const std::optional<Element> element = element_in(item);
    if (!element) return std::nullopt;
    list.push_back(*element);
  }
  return Value(std::move(list));
}

std::optional<Value> shares_in(const toml::node& node) {
  const toml::table* table = node.as_table();
  if (!table) return std::nullopt;
  std::map<std::string, double> shares;
  for (const auto& [name, item] : *table) {
    const std::optional<double> share = number_in(item);
    if (!share) return std::nullopt;
    shares.emplace(std::string(name.str()), *share);
  }
  return Value(std::move(shares));
}

std::optional<Value> as_value(auto single) {
  return single ? std::optional(Value(*single)) : std::nullopt;
}

void show(const toml::node& node, std::string& text) {
  if (const toml::array* array = node.as_array()) {
    text += "[";
    for (std::size_t i = 0; i < array->size() && text.size() < kShownValue; ++i) {
      if (i > 0) text += ", ";
      show(*array->get(i), text);
    }
    text += "]";
  } else if (node.is_table()) {
    text += "a table";
  } else if (const auto* string = node.as_string()) {
    text += fmt::format("\"{}\"", shortened(string->get(), kShownValue));
  } else {
    text += text_of(node).value_or("");
  }
}

}  // namespace

Place place_of(const toml::source_region& source) {
  return {std::max(1U, static_cast<unsigned>(source.begin.line)),
          std::max(1U, static_cast<unsigned>(source.begin.column))};
}

std::optional<Value> value_of(const toml::node& node, FieldType type) {
  switch (type) {
    case FieldType::Text:
      return as_value(string_in(node));
    case FieldType::Flag:
      return as_value(node.value_exact<bool>());
    case FieldType::Whole:
      if (const auto* whole = node.as_integer()) return Value(static_cast<long long>(whole->get()));
      return std::nullopt;
    case FieldType::Number:
      return as_value(number_in(node));
    case FieldType::Numbers:
      if (const auto number = number_in(node)) return Value(*number);
      return list_in(node, number_in);
    case FieldType::WholeList:
      return list_in(node, small_whole_in);
    case FieldType::TextList:
      return list_in(node, string_in);
    case FieldType::Shares:
    case FieldType::Spectrum:
      return shares_in(node);
    case FieldType::Time:
      return as_value(time_in(node));
  }
  return std::nullopt;
}

std::optional<std::string> text_of(const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
  if (const auto* number = node.as_floating_point()) return text_of_number(number->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (const auto* time = node.as_time()) return text_of_time(time->get());
  return time_in(node);
}

std::string shown(const toml::node& node) {
  std::string text;
  show(node, text);
  return node.is_array() ? shortened(text, kShownValue) : text;
}

}  // namespace evenleg
