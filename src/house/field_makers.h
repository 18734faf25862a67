// How one line of a field list becomes a Field: the type follows from the member that it fills.
#pragma once

#include <functional>
#include <type_traits>
#include <utility>

#include "evenleg/house/fields.h"

namespace evenleg {

template <class Member>
struct Unwrapped {
  using Type = Member;
};
template <class Inner>
struct Unwrapped<std::optional<Inner>> {
  using Type = Inner;
};

template <class Inner>
constexpr FieldType type_for() {
  if constexpr (std::is_same_v<Inner, std::string>) return FieldType::Text;
  if constexpr (std::is_same_v<Inner, bool>) return FieldType::Flag;
  if constexpr (std::is_same_v<Inner, int>) return FieldType::Whole;
  if constexpr (std::is_same_v<Inner, double>) return FieldType::Number;
  if constexpr (std::is_same_v<Inner, std::vector<double>>) return FieldType::Numbers;
  if constexpr (std::is_same_v<Inner, std::vector<int>>) return FieldType::WholeList;
  if constexpr (std::is_same_v<Inner, std::vector<std::string>>) return FieldType::TextList;
  if constexpr (std::is_same_v<Inner, std::map<std::string, double>>) return FieldType::Shares;
}

// An empty list or table is an absent one.
template <class Inner>
Value value_from(const Inner& inner) {
  if constexpr (std::is_same_v<Inner, int>) {
    return static_cast<long long>(inner);
  } else if constexpr (std::is_same_v<Inner, std::string> || std::is_arithmetic_v<Inner>) {
    return inner;
  } else {
    return inner.empty() ? Value{} : Value{inner};
  }
}

template <class Inner>
Value value_from(const std::optional<Inner>& member) {
  return member ? value_from(*member) : Value{};
}

// Requires: a value that fault_of() finds nothing wrong with. A whole number does for a number, and
// one number for a list of numbers.
template <class Inner>
Inner inner_from(const Value& value) {
  if constexpr (std::is_same_v<Inner, int>) {
    return static_cast<int>(std::get<long long>(value));
  } else if constexpr (std::is_same_v<Inner, double>) {
    const auto* whole = std::get_if<long long>(&value);
    return whole ? static_cast<double>(*whole) : std::get<double>(value);
  } else if constexpr (std::is_same_v<Inner, std::vector<double>>) {
    const auto* list = std::get_if<Inner>(&value);
    return list ? *list : Inner{inner_from<double>(value)};
  } else {
    return std::get<Inner>(value);
  }
}

// `member`: a pointer to a member, or a function that gives a reference to it.
template <class Record, class Access>
Field<Record> field(std::string_view key, Access member) {
  using Member = std::remove_cvref_t<std::invoke_result_t<Access, Record&>>;
  using Inner = typename Unwrapped<Member>::Type;
  Field<Record> made;
  made.key = key;
  made.type = type_for<Inner>();
  made.get = [member](const Record& record) { return value_from(std::invoke(member, record)); };
  made.set = [member](Record& record, const Value& value) {
    const bool absent = std::holds_alternative<std::monostate>(value);
    const Record fresh{};
    Member& target = std::invoke(member, record);
    target = absent ? std::invoke(member, fresh) : Member(inner_from<Inner>(value));
  };
  return made;
}

template <class Record>
Field<Record> needed(Field<Record> made) {
  made.needed = true;
  return made;
}

template <class Record>
Field<Record> within(Bounds bounds, Field<Record> made) {
  made.bounds = bounds;
  return made;
}

template <class Record>
Field<Record> one_of(std::vector<std::string> choices, Field<Record> made) {
  made.choices = std::move(choices);
  return made;
}

template <class Record>
Field<Record> as_time(Field<Record> made) {
  made.type = FieldType::Time;
  return made;
}

template <class Record>
Field<Record> as_spectrum(Field<Record> made) {
  made.type = FieldType::Spectrum;
  return made;
}

}  // namespace evenleg
