#include "src/cli/input.h"

#include <fmt/format.h>

#include "evenleg/base/files.h"
#include "evenleg/describe/describe.h"
#include "evenleg/store/store.h"

namespace evenleg {

Tables tables_for(const Session& session) {
  return session.data.empty() ? load_tables() : load_tables(session.data);
}

std::vector<Fault> faults_in(const House& house, const Vocabulary& vocabulary,
                             const std::filesystem::path& file) {
  std::vector<Fault> faults;
  for (const HouseFault& fault : validate(house, vocabulary)) {
    faults.push_back({fmt::format("{}: {}", file.string(), described(fault.subject, house)),
                      fault.what, fault.remedy});
  }
  return faults;
}

void require_no_house_file(const std::filesystem::path& out, const std::string& instead) {
  if (!std::filesystem::exists(out) || !is_house_file(out)) return;
  throw Error(ErrorKind::Request, {out.string(), "is a house file, and would be lost", instead});
}

House read_house(const std::filesystem::path& path, const Vocabulary& vocabulary) {
  if (!is_house_file(path)) {
    return read_description(read_file(path), path.string(), vocabulary);
  }
  House house = load_house(path);
  std::vector<Fault> faults = faults_in(house, vocabulary, path);
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  return house;
}

}  // namespace evenleg
