// What a page asks for, out of the JSON that it sent. All throw Error(Request) where the JSON is
// not what they need: a page that is not ours, or of another version.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/seen_state.h"
#include "evenleg/edit/edit.h"
#include "src/page/moves.h"

namespace evenleg {

[[nodiscard]] nlohmann::json parsed(const std::string& body);

[[nodiscard]] std::vector<Edit> edits_in(const nlohmann::json& request);
[[nodiscard]] std::vector<Drop> drops_in(const nlohmann::json& request);
// The name of the step for undo, "" where there is none.
[[nodiscard]] std::string label_in(const nlohmann::json& request);
// What "revision" says, where it is there.
[[nodiscard]] std::optional<int> revision_in(const nlohmann::json& request);
[[nodiscard]] bool flag_in(const nlohmann::json& request, const std::string& key);

// "on" or "scenario", "place" and "ohms".
[[nodiscard]] AskedState state_in(const nlohmann::json& request, const StateWatcher& watcher);

// An edit as a page sends it, for api/schedule.
[[nodiscard]] nlohmann::ordered_json edit_json(const Edit& edit);

}  // namespace evenleg
