#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "evenleg/base/format.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/fields.h"

namespace evenleg {
namespace {

// A basic string of TOML 1.0: quotes, backslashes and control characters escaped, all else as it
// is.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    constexpr unsigned char kSpace = 0x20;
    constexpr unsigned char kDelete = 0x7F;
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (byte < kSpace || byte == kDelete) {
      out += fmt::format("\\u{:04X}", byte);
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string key_text(std::string_view key) {
  const bool bare = !key.empty() && std::ranges::all_of(key, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
  return bare ? std::string(key) : quoted(key);
}

template <class Items, class Text>
std::string joined(const Items& items, Text text_of) {
  std::string out;
  for (const auto& item : items) out += (out.empty() ? "" : ", ") + text_of(item);
  return out;
}

struct ValueText {
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(bool flag) const { return flag ? "true" : "false"; }
  std::string operator()(long long whole) const { return fmt::format("{}", whole); }
  std::string operator()(double number) const { return exact(number); }
  std::string operator()(const std::string& text) const { return quoted(text); }
  std::string operator()(const std::vector<double>& list) const {
    return list.size() == 1 ? exact(list[0]) : fmt::format("[{}]", joined(list, exact));
  }
  std::string operator()(const std::vector<int>& list) const {
    return fmt::format("[{}]", joined(list, [](int whole) { return fmt::format("{}", whole); }));
  }
  std::string operator()(const std::vector<std::string>& names) const {
    return fmt::format("[{}]", joined(names, quoted));
  }
  std::string operator()(const std::map<std::string, double>& shares) const {
    const auto share = [](const auto& item) {
      return fmt::format("{} = {}", key_text(item.first), exact(item.second));
    };
    return fmt::format("{{ {} }}", joined(shares, share));
  }
};

template <class Record>
std::string field_line(const Field<Record>& field, const Record& record) {
  const Value value = field.get(record);
  if (!field.needed && value == field.get(Record{})) return "";
  const bool time = field.type == FieldType::Time && !fault_of(field, value);
  const std::string text = time ? std::get<std::string>(value) : std::visit(ValueText{}, value);
  return fmt::format("{} = {}\n", field.key, text.empty() ? "[]" : text);
}

template <class Record>
std::string record_lines(const Record& record) {
  std::string text;
  for (const Field<Record>& field : fields_of<Record>()) text += field_line(field, record);
  return text;
}

template <class Record>
std::string single(const Record& record) {
  return fmt::format("\n[{}]\n{}", kind_name<Record>, record_lines(record));
}

template <class Record>
std::string entries(const std::vector<Record>& records) {
  std::string text;
  for (const Record& record : records) {
    text += fmt::format("\n[[{}]]\n{}", kind_name<Record>, record_lines(record));
  }
  return text;
}

std::string free_text(std::string_view table, const FreeText& entries) {
  if (entries.empty()) return "";
  std::string text = fmt::format("\n[{}]\n", table);
  const auto add = [&](const std::string& key, const std::string& value) {
    text += fmt::format("{} = {}\n", key_text(key), quoted(value));
  };
  const auto name = entries.find("name");
  if (name != entries.end()) add(name->first, name->second);
  for (const auto& [key, value] : entries) {
    if (key != "name") add(key, value);
  }
  return text;
}

}  // namespace

std::string write_description(const House& house) {
  std::string text = "format = 1\n";
  text += free_text("house", house.about);
  text += single(house.supply);
  if (house.supply.transformer) text += single(*house.supply.transformer);
  if (house.service) text += single(*house.service);
  if (house.dwelling) text += single(*house.dwelling);
  text += entries(house.panels);
  text += entries(house.circuits);
  text += entries(house.multiwires);
  text += entries(house.outlets);
  text += entries(house.loads);
  text += entries(house.scenarios);
  text += entries(house.readings);
  text += free_text("visit", house.visit);
  text += entries(house.findings);
  return text;
}

}  // namespace evenleg
