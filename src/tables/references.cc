#include "src/tables/references.h"

#include <fmt/format.h>

namespace evenleg {

References::References(Row& root) {
  Row references = root.table("references");
  for (const std::string& name : references.table_keys()) {
    citations_.emplace(name, references.citation(name));
  }
  references.end();
}

Citation References::named_by(Row& row, std::string_view key) const {
  const std::string name = row.text(key);
  if (name.empty()) return {};
  const auto found = citations_.find(name);
  if (found != citations_.end()) return found->second;
  row.refuse(key, fmt::format("no reference is named \"{}\"", name),
             fmt::format("add [references.{}] or name another", name));
  return {};
}

}  // namespace evenleg
