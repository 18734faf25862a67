#include "src/cli/apply_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "evenleg/base/error.h"
#include "src/cli/input.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using Text = std::optional<std::string>;

[[noreturn]] void refuse(const fs::path& path, std::string what, std::string remedy) {
  throw Error(ErrorKind::Request, {path.string(), std::move(what), std::move(remedy)});
}

Text text_of(const Circuit& circuit, const std::string& key) {
  if (key == "space") return circuit.space ? Text(std::to_string(*circuit.space)) : std::nullopt;
  if (circuit.legs.empty()) return std::nullopt;
  return fmt::format("{}", fmt::join(circuit.legs, ","));
}

std::vector<std::string> legs_in(const Text& text) {
  std::vector<std::string> legs;
  for (std::size_t from = 0; text && from <= text->size();) {
    const std::size_t comma = std::min(text->find(',', from), text->size());
    legs.push_back(text->substr(from, comma - from));
    from = comma + 1;
  }
  return legs;
}

void put(Circuit& circuit, const KeyChange& change, const fs::path& path) {
  if (change.key == "legs") {
    circuit.legs = legs_in(change.before);
    return;
  }
  circuit.space.reset();
  if (!change.before) return;
  int space = 0;
  const char* end = change.before->data() + change.before->size();
  if (std::from_chars(change.before->data(), end, space).ptr != end) {
    throw Error(ErrorKind::File,
                {path.string(),
                 fmt::format("is damaged: the space \"{}\" of an applied plan is no number",
                             *change.before),
                 "restore a copy of it"});
  }
  circuit.space = space;
}

void add_change(AppliedPlan& plan, KeyChange change) {
  if (change.before != change.after) plan.push_back(std::move(change));
}

std::string quoted_or_none(const Text& text) { return text ? "\"" + *text + "\"" : "not given"; }

void require_as_applied(const KeyChange& change, const Text& now, const fs::path& path) {
  if (now == change.after) return;
  refuse(path,
         fmt::format("the plan cannot be taken back: {} of {} \"{}\" is {} now, and the plan had "
                     "made it {}",
                     change.key, change.kind, change.name, quoted_or_none(now),
                     quoted_or_none(change.after)),
         "change it back with `evenleg set`, or move the circuits one by one");
}

template <class Record>
Record& record_named(const KeyChange& change, std::vector<Record>& records, const fs::path& path) {
  const auto found = std::find_if(records.begin(), records.end(),
                                  [&](const Record& record) { return record.name == change.name; });
  if (found != records.end()) return *found;
  refuse(path,
         fmt::format("the plan cannot be taken back: there is no {} \"{}\" any more", change.kind,
                     change.name),
         "give it that name again, or move the circuits one by one");
}

// `when` goes before what is wrong.
void require_no_new_fault(const House& before, const House& after, const std::string& when,
                          const Vocabulary& vocabulary, const fs::path& path) {
  const std::vector<Fault> old = faults_in(before, vocabulary, path);
  std::vector<Fault> faults = faults_in(after, vocabulary, path);
  std::erase_if(faults, [&](const Fault& fault) {
    return std::find(old.begin(), old.end(), fault) != old.end();
  });
  for (Fault& fault : faults) fault.what = when + fault.what;
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
}

}  // namespace

void require_house_file(const fs::path& path, const std::string& option) {
  if (!fs::exists(path) || is_house_file(path)) return;
  refuse(path, fmt::format("is no house file, and {} changes one", option),
         "make one with `evenleg new HOUSE.house --from " + path.string() + "`");
}

AppliedPlan changes_between(const House& house, const House& planned) {
  AppliedPlan plan;
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    for (const char* key : {"space", "legs"}) {
      add_change(plan, {"circuit", house.circuits[c].name, key, text_of(house.circuits[c], key),
                        text_of(planned.circuits[c], key)});
    }
  }
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    add_change(plan, {"load", house.loads[l].name, "connect", house.loads[l].connect,
                      planned.loads[l].connect});
  }
  return plan;
}

void take_back(const AppliedPlan& plan, House& house, const fs::path& path) {
  for (const KeyChange& change : plan) {
    if (change.kind == "load") {
      Load& load = record_named(change, house.loads, path);
      require_as_applied(change, load.connect, path);
      load.connect = change.before;
    } else {
      Circuit& circuit = record_named(change, house.circuits, path);
      require_as_applied(change, text_of(circuit, change.key), path);
      put(circuit, change, path);
    }
  }
}

AppliedPlan apply_plan(const fs::path& path, const House& house, const House& planned,
                       const Vocabulary& vocabulary) {
  const AppliedPlan changes = changes_between(house, planned);
  change_house_and_plans(path, [&](House& now, std::vector<AppliedPlan>& applied) {
    if (now != house) {
      refuse(path, "was changed while the plan was worked out", "run the command again");
    }
    require_no_new_fault(now, planned, "with the plan, ", vocabulary, path);
    now = planned;
    applied.push_back(changes);
  });
  return changes;
}

AppliedPlan undo_plan(const fs::path& path, const Vocabulary& vocabulary) {
  AppliedPlan undone;
  change_house_and_plans(path, [&](House& house, std::vector<AppliedPlan>& applied) {
    if (applied.empty()) {
      refuse(path, "holds no applied plan to take back", "--undo follows --apply N");
    }
    const House before = house;
    take_back(applied.back(), house, path);
    require_no_new_fault(before, house, "with the plan taken back, ", vocabulary, path);
    undone = std::move(applied.back());
    applied.pop_back();
  });
  return undone;
}

}  // namespace evenleg
