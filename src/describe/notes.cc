#include "src/describe/notes.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

constexpr std::size_t kMostFaults = 1000;  // a longer list is not read by anyone

}  // namespace

void Notes::stands_at(const Subject& subject, Place place) {
  places_.insert_or_assign(KeyId{subject.kind, subject.index, subject.key}, place);
}

void Notes::fault(Place place, std::string what, std::string remedy) {
  std::string where = fmt::format("{}:{}:{}", name_, place.line, place.column);
  faults_.emplace_back(place, Fault{std::move(where), std::move(what), std::move(remedy)});
}

bool Notes::has_place(const Subject& subject) const {
  return places_.contains(KeyId{subject.kind, subject.index, subject.key});
}

// The key's place, else its entry's, else that of the table above, else the start of the text.
Place Notes::place_of(const Subject& subject) const {
  const std::string parent = subject.kind.substr(0, subject.kind.find('.'));
  for (const KeyId& key : {KeyId{subject.kind, subject.index, subject.key},
                           KeyId{subject.kind, subject.index, ""}, KeyId{parent, 0, ""}}) {
    const auto found = places_.find(key);
    if (found != places_.end()) return found->second;
  }
  return {};
}

void Notes::add(const std::vector<HouseFault>& faults) {
  for (const HouseFault& fault : faults) {
    const bool about_a_given_key = !fault.subject.key.empty() && has_place(fault.subject);
    if (spoiled_.contains(id(fault.subject))) continue;
    if (!about_a_given_key && unclear_.contains(id(fault.subject))) continue;
    this->fault(place_of(fault.subject), fault.what, fault.remedy);
  }
}

void Notes::throw_faults() {
  if (faults_.empty()) return;
  std::ranges::stable_sort(faults_, {}, [](const auto& placed) { return placed.first; });
  std::vector<Fault> all;
  for (auto& [place, fault] : faults_) {
    if (all.size() == kMostFaults) {
      all.push_back({name_,
                     counted(faults_.size() - kMostFaults, "more fault follows",
                             "more faults follow"),
                     "correct those above first"});
      break;
    }
    all.push_back(std::move(fault));
  }
  throw Error(ErrorKind::Request, std::move(all));
}

}  // namespace evenleg
