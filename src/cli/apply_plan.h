// A plan written into a house file, and taken back: each one change, all of it or nothing.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"
#include "evenleg/store/store.h"

namespace evenleg {

// Throws: Error(Request) for a description, which is a person's own text.
void require_house_file(const std::filesystem::path& path, const std::string& option);

// The keys by which a planned house differs: `space` and `legs` of circuits, `connect` of loads.
// Requires: the same circuits and loads in the same order.
[[nodiscard]] AppliedPlan changes_between(const House& house, const House& planned);

// Puts every key back. Throws: Error(Request) about `path` where one is not as the plan left it.
void take_back(const AppliedPlan& plan, House& house, const std::filesystem::path& path);

// Writes `planned` in place of `house` and keeps a record of the difference, which it gives.
// Throws: Error(Request) where the file no longer holds `house`, or the plan would make it unsound;
// Error(File).
AppliedPlan apply_plan(const std::filesystem::path& path, const House& house, const House& planned,
                       const Vocabulary& vocabulary);

// Takes the plan applied last back; what it had changed.
// Throws: Error(Request) where there is none, where a circuit or a load is no longer as the plan
// left it, or where the house would be unsound (another circuit sits there now); Error(File).
AppliedPlan undo_plan(const std::filesystem::path& path, const Vocabulary& vocabulary);

}  // namespace evenleg
