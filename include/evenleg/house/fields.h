// Every key of the house description, once: its name, type, bounds and the member it fills.
//
// The description reader and writer, the house file and the `add` and `set` commands all work from
// these lists, so that a key means the same everywhere. Adding a key: a member in house.h, a line in
// fields.cc, a column in a new migration of the store.
#pragma once

#include <functional>
#include <limits>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

enum class FieldType {
  Text,
  Flag,        // true or false
  Whole,       // a whole number
  Number,      // whole or not
  Numbers,     // one number or a list of them
  WholeList,   // [37, 39]
  TextList,    // ["A", "B"]
  Shares,      // { "Range" = 0.4 }
  Spectrum,    // { "3" = 81 }: a number for each harmonic order, a whole number from 2 to 50
  Time,        // 2026-03-14T10:20:00, or a date
};

// monostate: absent.
using Value = std::variant<std::monostate, bool, long long, double, std::string,
                           std::vector<double>, std::vector<int>, std::vector<std::string>,
                           std::map<std::string, double>>;

// The harmonic orders that a spectrum may name.
inline constexpr int kLeastOrder = 2;
inline constexpr int kMostOrder = 50;  // as far as IEC 61000-4-7 and its like count

// The order that a key of a spectrum names; nothing for any other text ("03", "1", "51").
[[nodiscard]] std::optional<int> harmonic_order(std::string_view text);

// Bounds on a number, or on each number of a list; the lower one may itself be excluded ("above
// 0"). On a Text: the most characters that it may have. Without bounds a text is a name of one line.
struct Bounds {
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  bool above_least = false;
};

template <class Record>
struct Field {
  std::string_view key;
  FieldType type = FieldType::Text;
  bool needed = false;
  Bounds bounds{};
  std::vector<std::string> choices{};  // allowed texts; empty: any
  std::function<Value(const Record&)> get{};
  // Requires: a value of the field's type, or absent for an optional field (back to its default).
  std::function<void(Record&, const Value&)> set{};
};

// The fields of a kind, in the order in which they are written. A kind's own table name, as in
// [[panel]], is kind_name<Record>.
template <class Record>
[[nodiscard]] std::span<const Field<Record>> fields_of();
template <class Record>
inline constexpr std::string_view kind_name = "";

template <> inline constexpr std::string_view kind_name<Supply> = "supply";
template <> inline constexpr std::string_view kind_name<Transformer> = "supply.transformer";
template <> inline constexpr std::string_view kind_name<Service> = "service";
template <> inline constexpr std::string_view kind_name<Dwelling> = "dwelling";
template <> inline constexpr std::string_view kind_name<Panel> = "panel";
template <> inline constexpr std::string_view kind_name<Circuit> = "circuit";
template <> inline constexpr std::string_view kind_name<Multiwire> = "multiwire";
template <> inline constexpr std::string_view kind_name<Outlet> = "outlet";
template <> inline constexpr std::string_view kind_name<Load> = "load";
template <> inline constexpr std::string_view kind_name<Scenario> = "scenario";
template <> inline constexpr std::string_view kind_name<Reading> = "reading";
template <> inline constexpr std::string_view kind_name<SiteFinding> = "finding";

template <> std::span<const Field<Supply>> fields_of();
template <> std::span<const Field<Transformer>> fields_of();
template <> std::span<const Field<Service>> fields_of();
template <> std::span<const Field<Dwelling>> fields_of();
template <> std::span<const Field<Panel>> fields_of();
template <> std::span<const Field<Circuit>> fields_of();
template <> std::span<const Field<Multiwire>> fields_of();
template <> std::span<const Field<Outlet>> fields_of();
template <> std::span<const Field<Load>> fields_of();
template <> std::span<const Field<Scenario>> fields_of();
template <> std::span<const Field<Reading>> fields_of();
template <> std::span<const Field<SiteFinding>> fields_of();

// What is wrong with `value` for this field ("watts = -5, and it must be a number above 0 and at
// most 1000000"), or nothing. Absent is wrong for a needed field.
template <class Record>
[[nodiscard]] std::optional<std::string> fault_of(const Field<Record>& field, const Value& value);

// What a field takes: "a number above 0 and at most 1000000", "\"GFCI\" or \"dual\"".
template <class Record>
[[nodiscard]] std::string expected(const Field<Record>& field);

// A free text of [house] or [visit], where any key is allowed: what is wrong with it, or nothing.
[[nodiscard]] std::optional<std::string> free_text_fault(std::string_view key,
                                                         std::string_view text);

// "a number", "a list of names": how a type is called in a message.
[[nodiscard]] std::string_view described(FieldType type);

}  // namespace evenleg
