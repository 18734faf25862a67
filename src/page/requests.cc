#include "src/page/requests.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "evenleg/audit/neutral.h"
#include "evenleg/base/error.h"
#include "evenleg/base/format.h"

namespace evenleg {
namespace {

using nlohmann::json;

constexpr std::size_t kMostEdits = 2000;  // more than a whole house of limits.h is entered with
constexpr std::size_t kMostDrops = 500;

[[noreturn]] void refuse(const std::string& where, std::string what) {
  throw Error(ErrorKind::Request, {where, std::move(what), "reload the page"});
}

std::string text_in(const json& object, const std::string& key) {
  const auto found = object.find(key);
  if (found == object.end() || found->is_null()) return "";
  if (!found->is_string()) refuse(key, "is no text");
  return found->get<std::string>();
}

// As on the command line, where a comma within a name is written "\,".
std::string escaped(const std::string& name) {
  std::string text;
  for (const char c : name) {
    if (c == ',') text += '\\';
    text += c;
  }
  return text;
}

std::string word_of(const json& value, const std::string& key) {
  if (value.is_string()) return value.get<std::string>();
  if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
  if (value.is_number_integer()) return std::to_string(value.get<long long>());
  if (value.is_number()) return exact(value.get<double>());
  refuse(key, "is neither a text nor a number");
}

std::vector<std::string> words_of(const json& value, const std::string& key) {
  std::vector<std::string> words;
  if (value.is_array()) {
    for (const json& one : value) words.push_back(word_of(one, key));
  } else if (value.is_object()) {
    for (const auto& [name, number] : value.items()) {
      words.push_back(name + "=" + word_of(number, key));
    }
  } else {
    return {word_of(value, key)};
  }
  if (words.size() == 1) words.front() = escaped(words.front());
  return words;
}

Verb verb_of(const std::string& text) {
  if (text == "add") return Verb::Add;
  if (text == "set") return Verb::Set;
  if (text == "remove") return Verb::Remove;
  refuse("verb", fmt::format("\"{}\" is neither add, set nor remove", shortened(text, 20)));
}

// The keys of a list or table that is set to nothing are taken away.
void take_key(const std::string& key, const json& value, Edit& edit) {
  const bool empty = value.is_null() || ((value.is_array() || value.is_object()) && value.empty());
  if (empty) {
    edit.clear.push_back(key);
  } else {
    edit.given[key] = words_of(value, key);
  }
}

void require_known_keys(const Edit& edit) {
  if (takes_any_key(edit.kind)) return;
  const std::vector<EditKey> known = keys_of(edit.kind);
  for (const auto& [key, given] : edit.given) {
    const bool there = std::any_of(known.begin(), known.end(),
                                   [&name = key](const EditKey& one) { return one.key == name; });
    if (!there) refuse(key, fmt::format("a {} has no such key", edit.kind));
  }
}

Edit edit_in(const json& object) {
  if (!object.is_object()) refuse("edits", "one of them is no object");
  Edit edit;
  edit.verb = verb_of(text_in(object, "verb"));
  edit.kind = text_in(object, "kind");
  edit.name = text_in(object, "name");
  edit.with_uses = flag_in(object, "with_uses");
  const std::vector<std::string> kinds = edited_kinds(edit.verb);
  if (std::find(kinds.begin(), kinds.end(), edit.kind) == kinds.end()) {
    refuse("kind", fmt::format("\"{}\" is no kind for this", shortened(edit.kind, 20)));
  }
  if (object.contains("set")) {
    if (!object["set"].is_object()) refuse("set", "is no object");
    for (const auto& [key, value] : object["set"].items()) take_key(key, value, edit);
  }
  if (object.contains("clear")) {
    for (const json& key : object["clear"]) edit.clear.push_back(word_of(key, "clear"));
  }
  require_known_keys(edit);
  return edit;
}

const json& list_in(const json& request, const std::string& key, std::size_t most) {
  const auto found = request.find(key);
  if (found == request.end() || !found->is_array()) refuse(key, "is no list");
  if (found->size() > most) refuse(key, fmt::format("has more than {} entries", most));
  return *found;
}

Drop drop_in(const json& object) {
  if (!object.is_object() || !object.contains("space") || !object["space"].is_number_integer()) {
    refuse("moves", "one of them names no space");
  }
  constexpr long long kMostSpace = 10000;
  const auto space = object["space"].get<long long>();
  if (space < 0 || space > kMostSpace) refuse("space", "is no space of a panel");
  Drop drop;
  drop.circuit = text_in(object, "circuit");
  drop.space = static_cast<int>(space);
  if (const std::string panel = text_in(object, "panel"); !panel.empty()) drop.panel = panel;
  drop.at_once = flag_in(object, "at_once");
  if (object.contains("legs")) {
    for (const json& leg : object["legs"]) drop.legs.push_back(word_of(leg, "legs"));
  }
  return drop;
}

std::vector<bool> on_in(const json& names, const House& house) {
  std::vector<bool> on(house.loads.size(), false);
  if (!names.is_array()) refuse("on", "is no list of loads");
  for (const json& name : names) {
    const std::string text = word_of(name, "on");
    const auto found = std::find_if(house.loads.begin(), house.loads.end(),
                                    [&](const Load& load) { return load.name == text; });
    if (found == house.loads.end()) {
      throw Error(ErrorKind::Request,
                  {"on", fmt::format("there is no load \"{}\"", text), "name one of the house's"});
    }
    on[static_cast<std::size_t>(found - house.loads.begin())] = true;
  }
  return on;
}

double ohms_in(const json& request) {
  if (!request.contains("ohms") || request["ohms"].is_null()) return kOpen;
  constexpr double kMostOhms = 1e6;  // as for a run
  const json& value = request["ohms"];
  if (!value.is_number()) refuse("ohms", "is no number");
  const auto ohms = value.get<double>();
  if (!(ohms >= 0 && ohms <= kMostOhms)) refuse("ohms", "is no resistance of a neutral");
  return ohms;
}

}  // namespace

json parsed(const std::string& body) {
  json request = json::parse(body, nullptr, false);
  if (request.is_discarded() || !request.is_object()) refuse("request", "is no JSON object");
  return request;
}

std::string label_in(const json& request) {
  constexpr int kMostColumns = 100;
  return shortened(text_in(request, "label"), kMostColumns);
}

std::optional<int> revision_in(const json& request) {
  const auto found = request.find("revision");
  if (found == request.end() || !found->is_number_integer()) return std::nullopt;
  return found->get<int>();
}

bool flag_in(const json& request, const std::string& key) {
  const auto found = request.find(key);
  return found != request.end() && found->is_boolean() && found->get<bool>();
}

std::vector<Edit> edits_in(const json& request) {
  std::vector<Edit> edits;
  for (const json& one : list_in(request, "edits", kMostEdits)) edits.push_back(edit_in(one));
  return edits;
}

std::vector<Drop> drops_in(const json& request) {
  std::vector<Drop> drops;
  if (!request.contains("moves")) return drops;
  for (const json& one : list_in(request, "moves", kMostDrops)) drops.push_back(drop_in(one));
  return drops;
}

AskedState state_in(const json& request, const StateWatcher& watcher) {
  AskedState asked;
  if (request.contains("on") && !request["on"].is_null()) {
    asked.on = on_in(request["on"], watcher.house());
  } else {
    const std::string scenario = text_in(request, "scenario");
    asked.on = watcher.running(scenario.empty() ? std::nullopt : std::optional(scenario));
  }
  const std::string place = text_in(request, "place");
  if (!place.empty()) {
    asked.fault = NeutralFault{place_named(watcher.house(), watcher.wiring(), place, "place"),
                               ohms_in(request)};
  }
  return asked;
}

nlohmann::ordered_json edit_json(const Edit& edit) {
  nlohmann::ordered_json set = nlohmann::ordered_json::object();
  for (const auto& [key, given] : edit.given) set[key] = given.front();
  const char* verb = edit.verb == Verb::Add ? "add" : edit.verb == Verb::Set ? "set" : "remove";
  return {{"verb", verb}, {"kind", edit.kind}, {"name", edit.name}, {"set", set}};
}

}  // namespace evenleg
