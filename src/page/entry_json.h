// Entries of a house as JSON objects of their keys, as in a description; absent keys are left out.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <variant>
#include <vector>

#include "evenleg/house/fields.h"

namespace evenleg {

inline constexpr int kFormat = 1;  // of the answers; raised when a key changes its meaning

template <class Record>
[[nodiscard]] nlohmann::ordered_json entry_json(const Record& record) {
  nlohmann::ordered_json object = nlohmann::ordered_json::object();
  for (const Field<Record>& field : fields_of<Record>()) {
    std::visit(
        [&](const auto& value) {
          using Held = std::decay_t<decltype(value)>;
          if constexpr (!std::is_same_v<Held, std::monostate>)
            object[std::string(field.key)] = value;
        },
        field.get(record));
  }
  return object;
}

template <class Record>
[[nodiscard]] nlohmann::ordered_json entries_json(const std::vector<Record>& records) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Record& record : records) list.push_back(entry_json(record));
  return list;
}

}  // namespace evenleg
