#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/house/fields.h"
#include "src/house/text_faults.h"

namespace evenleg {
namespace {

// Smaller numbers than this are slips, and their reciprocals would swamp every sum. Judgement.
constexpr double kSmallest = 1e-9;
constexpr double kMostProseCharacters = 4000;  // a page
constexpr int kShown = 60;                     // columns of a value in a message

// What a field asks of a value, without its record.
struct Ask {
  std::string_view key;
  FieldType type;
  Bounds bounds;
  const std::vector<std::string>& choices;
};

template <class Record>
Ask ask_of(const Field<Record>& field) {
  return {field.key, field.type, field.bounds, field.choices};
}

std::string quoted(std::string_view text) { return fmt::format("\"{}\"", shortened(text, kShown)); }

std::string any_of(const std::vector<std::string>& choices) {
  std::string text;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (i > 0) text += i + 1 == choices.size() ? " or " : ", ";
    text += quoted(choices[i]);
  }
  return text;
}

std::string range_text(const Bounds& bounds) {
  const bool bottom = std::isfinite(bounds.least);
  const bool top = std::isfinite(bounds.most);
  if (bottom && top && !bounds.above_least) {
    return fmt::format("from {} to {}", exact(bounds.least), exact(bounds.most));
  }
  std::string text;
  if (bottom) text = (bounds.above_least ? "above " : "at least ") + exact(bounds.least);
  if (top) text += (bottom ? " and at most " : "at most ") + exact(bounds.most);
  return text;
}

std::string expected_of(const Ask& ask) {
  if (!ask.choices.empty()) return any_of(ask.choices);
  const std::string type(described(ask.type));
  const std::string range = range_text(ask.bounds);
  const bool single = ask.type == FieldType::Number || ask.type == FieldType::Whole;
  if (ask.type == FieldType::Text || range.empty()) return type;
  return type + (single ? " " : ", each ") + range;
}

std::string shown(double number) {
  const std::string text = exact(number);
  return text.find_first_of(".en") == std::string::npos ? text + ".0" : text;
}

std::string shown(const Value& value) {
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
  if (const auto* whole = std::get_if<long long>(&value)) return fmt::format("{}", *whole);
  if (const auto* number = std::get_if<double>(&value)) return shown(*number);
  if (const auto* text = std::get_if<std::string>(&value)) return quoted(*text);
  if (std::holds_alternative<std::map<std::string, double>>(value)) return "a table";
  return std::holds_alternative<std::monostate>(value) ? "absent" : "a list";
}

bool type_fits(FieldType type, const Value& value) {
  const bool whole = std::holds_alternative<long long>(value);
  const bool number = whole || std::holds_alternative<double>(value);
  switch (type) {
    case FieldType::Text:
    case FieldType::Time:
      return std::holds_alternative<std::string>(value);
    case FieldType::Flag:
      return std::holds_alternative<bool>(value);
    case FieldType::Whole:
      return whole;
    case FieldType::Number:
      return number;
    case FieldType::Numbers:
      return number || std::holds_alternative<std::vector<double>>(value);
    case FieldType::WholeList:
      return std::holds_alternative<std::vector<int>>(value);
    case FieldType::TextList:
      return std::holds_alternative<std::vector<std::string>>(value);
    case FieldType::Shares:
    case FieldType::Spectrum:
      return std::holds_alternative<std::map<std::string, double>>(value);
  }
  return false;
}

// `finding`: the key and the number as written, "watts = -5" or "at_spaces holds 0".
std::optional<std::string> number_fault(const std::string& finding, double number,
                                        const std::string& expectation, const Bounds& bounds) {
  if (!std::isfinite(number)) return finding + ", and it must be a finite number";
  const bool too_low = number < bounds.least || (bounds.above_least && number <= bounds.least);
  if (too_low || number > bounds.most) {
    return fmt::format("{}, and it must be {}", finding, expectation);
  }
  if (number != 0 && std::abs(number) < kSmallest) {
    return fmt::format("{}, and a number this close to 0 must be 0 or at least {}", finding,
                       exact(kSmallest));
  }
  return std::nullopt;
}

template <class Number>
std::optional<std::string> list_fault(const Ask& ask, const std::vector<Number>& list) {
  for (const Number number : list) {
    const auto value = static_cast<double>(number);
    auto fault = number_fault(fmt::format("{} holds {}", ask.key, exact(value)), value,
                              expected_of(ask), ask.bounds);
    if (fault) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> names_fault(const Ask& ask, const std::vector<std::string>& names) {
  const std::string subject = fmt::format("a name in {}", ask.key);
  for (const std::string& name : names) {
    if (auto fault = text_fault(subject, name, kMostNameCharacters)) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> shares_fault(const Ask& ask,
                                        const std::map<std::string, double>& shares) {
  for (const auto& [name, share] : shares) {
    const std::string subject = fmt::format("a name in {}", ask.key);
    if (auto fault = text_fault(subject, name, kMostNameCharacters)) return fault;
    auto fault = number_fault(fmt::format("{} of {} = {}", ask.key, quoted(name), exact(share)),
                              share, "a number " + range_text(ask.bounds), ask.bounds);
    if (fault) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> spectrum_fault(const Ask& ask,
                                          const std::map<std::string, double>& orders) {
  for (const auto& [order, number] : orders) {
    if (!harmonic_order(order)) {
      return fmt::format("{} has {}, and a harmonic order must be a whole number from {} to {}",
                         ask.key, quoted(order), kLeastOrder, kMostOrder);
    }
    auto fault = number_fault(fmt::format("{} of order {} = {}", ask.key, order, exact(number)),
                              number, "a number " + range_text(ask.bounds), ask.bounds);
    if (fault) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> single_text_fault(const Ask& ask, const std::string& text) {
  if (ask.type == FieldType::Time) {
    if (is_time(text)) return std::nullopt;
    return fmt::format("{} = {}, and it must be {}", ask.key, quoted(text), expected_of(ask));
  }
  const double most = std::isfinite(ask.bounds.most) ? ask.bounds.most : kMostNameCharacters;
  if (auto fault = text_fault(ask.key, text, most)) return fault;
  if (ask.choices.empty()) return std::nullopt;
  if (std::ranges::find(ask.choices, text) != ask.choices.end()) return std::nullopt;
  return fmt::format("{} = {}, and it must be {}", ask.key, quoted(text), expected_of(ask));
}

std::optional<std::string> value_fault(const Ask& ask, const Value& value) {
  if (!type_fits(ask.type, value)) {
    return fmt::format("{} = {}, and it must be {}", ask.key, shown(value), expected_of(ask));
  }
  const auto single = [&](double number, const std::string& as_written) {
    return number_fault(fmt::format("{} = {}", ask.key, as_written), number, expected_of(ask),
                        ask.bounds);
  };
  if (const auto* whole = std::get_if<long long>(&value)) {
    return single(static_cast<double>(*whole), fmt::format("{}", *whole));
  }
  if (const auto* number = std::get_if<double>(&value)) return single(*number, exact(*number));
  if (const auto* text = std::get_if<std::string>(&value)) return single_text_fault(ask, *text);
  if (const auto* list = std::get_if<std::vector<double>>(&value)) return list_fault(ask, *list);
  if (const auto* list = std::get_if<std::vector<int>>(&value)) return list_fault(ask, *list);
  if (const auto* names = std::get_if<std::vector<std::string>>(&value)) {
    return names_fault(ask, *names);
  }
  if (const auto* shares = std::get_if<std::map<std::string, double>>(&value)) {
    return ask.type == FieldType::Spectrum ? spectrum_fault(ask, *shares)
                                           : shares_fault(ask, *shares);
  }
  return std::nullopt;
}

bool is_empty_list(const Value& value) {
  const auto* names = std::get_if<std::vector<std::string>>(&value);
  return names && names->empty();
}

}  // namespace

std::string_view described(FieldType type) {
  switch (type) {
    case FieldType::Text:
      return "text";
    case FieldType::Flag:
      return "true or false";
    case FieldType::Whole:
      return "a whole number";
    case FieldType::Number:
      return "a number";
    case FieldType::Numbers:
      return "a number or a list of numbers";
    case FieldType::WholeList:
      return "a list of whole numbers";
    case FieldType::TextList:
      return "a list of names";
    case FieldType::Shares:
      return "a table of names and shares";
    case FieldType::Spectrum:
      return "a table of harmonic orders, as { \"3\" = 81 }";
    case FieldType::Time:
      return "a date, or a date and time such as 2026-03-14T10:20:00";
  }
  return "";
}

std::optional<int> harmonic_order(std::string_view text) {
  int order = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, order);
  const bool plain = error == std::errc{} && stop == end && !text.starts_with('0');
  if (!plain || order < kLeastOrder || order > kMostOrder) return std::nullopt;
  return order;
}

std::optional<std::string> free_text_fault(std::string_view key, std::string_view text) {
  if (auto fault = text_fault("a key", key, kMostNameCharacters)) return fault;
  const bool is_name = key == "name";
  if (text.empty() && !is_name) return std::nullopt;
  return text_fault(shortened(key, kShown), text,
                    is_name ? kMostNameCharacters : kMostProseCharacters);
}

template <class Record>
std::string expected(const Field<Record>& field) {
  return expected_of(ask_of(field));
}

template <class Record>
std::optional<std::string> fault_of(const Field<Record>& field, const Value& value) {
  const bool absent = std::holds_alternative<std::monostate>(value);
  if (absent && !field.needed) return std::nullopt;
  if (field.needed && is_empty_list(value)) {
    return fmt::format("{} is an empty list, and it must be {}", field.key, expected(field));
  }
  return value_fault(ask_of(field), value);
}

template std::string expected(const Field<Supply>&);
template std::string expected(const Field<Transformer>&);
template std::string expected(const Field<Service>&);
template std::string expected(const Field<Dwelling>&);
template std::string expected(const Field<Panel>&);
template std::string expected(const Field<Circuit>&);
template std::string expected(const Field<Multiwire>&);
template std::string expected(const Field<Outlet>&);
template std::string expected(const Field<Load>&);
template std::string expected(const Field<Scenario>&);
template std::string expected(const Field<Reading>&);
template std::string expected(const Field<SiteFinding>&);

template std::optional<std::string> fault_of(const Field<Supply>&, const Value&);
template std::optional<std::string> fault_of(const Field<Transformer>&, const Value&);
template std::optional<std::string> fault_of(const Field<Service>&, const Value&);
template std::optional<std::string> fault_of(const Field<Dwelling>&, const Value&);
template std::optional<std::string> fault_of(const Field<Panel>&, const Value&);
template std::optional<std::string> fault_of(const Field<Circuit>&, const Value&);
template std::optional<std::string> fault_of(const Field<Multiwire>&, const Value&);
template std::optional<std::string> fault_of(const Field<Outlet>&, const Value&);
template std::optional<std::string> fault_of(const Field<Load>&, const Value&);
template std::optional<std::string> fault_of(const Field<Scenario>&, const Value&);
template std::optional<std::string> fault_of(const Field<Reading>&, const Value&);
template std::optional<std::string> fault_of(const Field<SiteFinding>&, const Value&);

}  // namespace evenleg
