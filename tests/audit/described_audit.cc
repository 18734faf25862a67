#include "tests/audit/described_audit.h"

#include <stdexcept>
#include <string>

#include "evenleg/describe/describe.h"

namespace evenleg {
namespace {

[[noreturn]] void not_there(std::string_view name) {
  throw std::invalid_argument("a test asks for \"" + std::string(name) + "\", which is not there");
}

}  // namespace

int DescribedAudit::load(std::string_view name) const {
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    if (house.loads[l].name == name) return static_cast<int>(l);
  }
  not_there(name);
}

const OpenNeutral& DescribedAudit::open(std::string_view place) const {
  for (const OpenNeutral& open : audit.open_neutral) {
    if (open.place.name == place) return open;
  }
  not_there(place);
}

const LoadExtremes& DescribedAudit::extremes(std::string_view place, std::string_view name) const {
  for (const LoadExtremes& row : open(place).loads) {
    if (row.load == load(name)) return row;
  }
  not_there(name);
}

const NeutralRow& DescribedAudit::neutral(std::string_view place) const {
  for (const NeutralRow& row : audit.neutrals) {
    if (row.place == place) return row;
  }
  not_there(place);
}

std::vector<WiringFinding> DescribedAudit::findings(std::string_view rule) const {
  std::vector<WiringFinding> found;
  for (const WiringFinding& finding : audit.findings) {
    if (finding.rule == rule) found.push_back(finding);
  }
  return found;
}

DescribedAudit audit_of(std::string_view text) {
  const Tables tables = load_tables();
  DescribedAudit described{read_description(text, "test.toml", vocabulary(tables)), {}};
  described.audit = audit(described.house, tables);
  return described;
}

bool says(const WiringFinding& finding, std::string_view words) {
  return finding.text.find(words) != std::string::npos;
}

}  // namespace evenleg
