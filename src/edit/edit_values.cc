#include "evenleg/edit/edit_values.h"

#include <fmt/format.h>

#include <charconv>

#include "evenleg/base/error.h"
#include "evenleg/base/trimmed.h"
#include "evenleg/edit/units.h"

namespace evenleg {
namespace {

// A key and what it takes, for messages.
struct Asked {
  std::string_view key;
  const std::string& expected;

  [[noreturn]] void refuse(const std::string& what) const {
    throw Error(ErrorKind::Request, {fmt::format("--{}", key), what, "give " + expected});
  }
};

template <class Number>
bool read_whole_text(std::string_view text, Number& number) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc{} && end == text.data() + text.size();
}

template <class Number>
Number number_from(const Asked& asked, std::string_view text) {
  Number number{};
  if (read_whole_text(text, number)) return number;
  if constexpr (!std::is_integral_v<Number>) {
    const auto alone = number_without_unit(asked.key, text);
    if (alone && read_whole_text(*alone, number)) return number;
  }
  constexpr bool kWhole = std::is_integral_v<Number>;
  asked.refuse(fmt::format("\"{}\" is not a {}number", text, kWhole ? "whole " : ""));
}

bool flag_from(const Asked& asked, const std::string& text) {
  if (text == "true" || text == "yes") return true;
  if (text == "false" || text == "no") return false;
  asked.refuse(fmt::format("\"{}\" is neither true nor false", text));
}

std::vector<std::string> parts_of(const std::vector<std::string>& given) {
  return given.size() == 1 ? split_at_commas(given.front()) : given;
}

template <class Number>
std::vector<Number> numbers_from(const Asked& asked, const std::vector<std::string>& given) {
  std::vector<Number> numbers;
  for (const std::string& part : parts_of(given))
    numbers.push_back(number_from<Number>(asked, part));
  return numbers;
}

std::map<std::string, double> shares_from(const Asked& asked, const std::vector<std::string>& given,
                                          std::string_view noun, std::string_view example) {
  std::map<std::string, double> shares;
  for (const std::string& part : parts_of(given)) {
    const std::size_t equals = part.rfind('=');
    if (equals == std::string::npos) {
      asked.refuse(fmt::format("\"{}\" has no {}, as in \"{}\"", part, noun, example));
    }
    const std::string name(trimmed(std::string_view(part).substr(0, equals)));
    const std::string share(trimmed(std::string_view(part).substr(equals + 1)));
    if (!shares.emplace(name, number_from<double>(asked, share)).second) {
      asked.refuse(fmt::format("\"{}\" is given two {}s", name, noun));
    }
  }
  return shares;
}

// The command line has its own form for what a description writes as a table.
std::map<std::string, double> spectrum_from(std::string_view key,
                                            const std::vector<std::string>& given) {
  const std::string expected = "each harmonic order with its number, as 3=81,5=61";
  return shares_from({key, expected}, given, "number", "3=81");
}

}  // namespace

std::vector<std::string> split_at_commas(std::string_view text) {
  std::vector<std::string> parts;
  std::string part;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool escaped_comma = text[i] == '\\' && i + 1 < text.size() && text[i + 1] == ',';
    if (escaped_comma) {
      part += text[++i];
    } else if (text[i] == ',') {
      parts.emplace_back(trimmed(part));
      part.clear();
    } else {
      part += text[i];
    }
  }
  parts.emplace_back(trimmed(part));
  return parts;
}

Value value_from_text(FieldType type, std::string_view key, const std::vector<std::string>& given,
                      const std::string& expected) {
  const Asked asked{key, expected};
  const bool list = type == FieldType::Numbers || type == FieldType::WholeList ||
                    type == FieldType::TextList || type == FieldType::Shares ||
                    type == FieldType::Spectrum;
  if (!list && given.size() > 1) asked.refuse("is given more than once");
  const std::string& text = given.front();
  switch (type) {
    case FieldType::Text:
    case FieldType::Time:
      return text;
    case FieldType::Flag:
      return flag_from(asked, text);
    case FieldType::Whole:
      return number_from<long long>(asked, text);
    case FieldType::Number:
      return number_from<double>(asked, text);
    case FieldType::Numbers:
      return numbers_from<double>(asked, given);
    case FieldType::WholeList:
      return numbers_from<int>(asked, given);
    case FieldType::TextList:
      return parts_of(given);
    case FieldType::Shares:
      return shares_from(asked, given, "share", "Range=0.4");
    case FieldType::Spectrum:
      return spectrum_from(key, given);
  }
  return {};
}

}  // namespace evenleg
