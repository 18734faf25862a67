// The kinds of a house as rows: where each is kept in House and which table holds it.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "evenleg/house/fields.h"

namespace evenleg {

// Calls visit(std::type_identity<Record>{}) for each kind, a supply before its transformer.
template <class Visit>
void for_each_kind(Visit visit) {
  const auto all = [&]<class... Records>(std::type_identity<Records>... kinds) {
    (visit(kinds), ...);
  };
  all(std::type_identity<Supply>{}, std::type_identity<Transformer>{},
      std::type_identity<Service>{}, std::type_identity<Dwelling>{}, std::type_identity<Panel>{},
      std::type_identity<Circuit>{},
      std::type_identity<Multiwire>{}, std::type_identity<Outlet>{}, std::type_identity<Load>{},
      std::type_identity<Scenario>{}, std::type_identity<Reading>{},
      std::type_identity<SiteFinding>{});
}

// The member of House that holds the rows of a kind: a vector, an optional, or the supply itself.
template <class Record, class AnyHouse>
auto& member_of(AnyHouse& house) {
  if constexpr (std::is_same_v<Record, Supply>) return house.supply;
  if constexpr (std::is_same_v<Record, Transformer>) return house.supply.transformer;
  if constexpr (std::is_same_v<Record, Service>) return house.service;
  if constexpr (std::is_same_v<Record, Dwelling>) return house.dwelling;
  if constexpr (std::is_same_v<Record, Panel>) return house.panels;
  if constexpr (std::is_same_v<Record, Circuit>) return house.circuits;
  if constexpr (std::is_same_v<Record, Multiwire>) return house.multiwires;
  if constexpr (std::is_same_v<Record, Outlet>) return house.outlets;
  if constexpr (std::is_same_v<Record, Load>) return house.loads;
  if constexpr (std::is_same_v<Record, Scenario>) return house.scenarios;
  if constexpr (std::is_same_v<Record, Reading>) return house.readings;
  if constexpr (std::is_same_v<Record, SiteFinding>) return house.findings;
}

template <class Record>
inline constexpr bool kIsSingle =
    std::is_same_v<Record, Supply> || std::is_same_v<Record, Transformer> ||
    std::is_same_v<Record, Service> || std::is_same_v<Record, Dwelling>;

template <class Record>
std::vector<Record> rows_of(const House& house) {
  const auto& member = member_of<Record>(house);
  if constexpr (std::is_same_v<Record, Supply>) {
    return {member};
  } else if constexpr (kIsSingle<Record>) {
    return member ? std::vector<Record>{*member} : std::vector<Record>{};
  } else {
    return member;
  }
}

// Requires: at most one row of a single kind; exactly one supply.
template <class Record>
void put_rows(House& house, std::vector<Record> rows) {
  auto& member = member_of<Record>(house);
  if constexpr (kIsSingle<Record>) {
    if (!rows.empty()) member = std::move(rows.front());
  } else {
    member = std::move(rows);
  }
}

// "supply_transformer"; a dot in a table's name would have to be quoted in every query.
template <class Record>
std::string table_of() {
  std::string name(kind_name<Record>);
  std::ranges::replace(name, '.', '_');
  return name;
}

// Kept as rows of an item and its number, in place of a position and an item.
[[nodiscard]] inline bool is_table(FieldType type) {
  return type == FieldType::Shares || type == FieldType::Spectrum;
}

[[nodiscard]] inline bool is_list(FieldType type) {
  return type == FieldType::Numbers || type == FieldType::WholeList ||
         type == FieldType::TextList || is_table(type);
}

// `panel "Main"`, `reading 2` where a kind has no names: how a row is called in a message.
template <class Record>
std::string row_text(const Record& row, std::size_t index) {
  const Field<Record>& first = fields_of<Record>().front();
  const Value name = first.key == "name" ? first.get(row) : Value{};
  const auto* text = std::get_if<std::string>(&name);
  std::string kind(kind_name<Record>);
  if constexpr (kIsSingle<Record>) return kind;
  return text && !text->empty() ? kind + " \"" + *text + "\""
                                : kind + " " + std::to_string(index + 1);
}

}  // namespace evenleg
