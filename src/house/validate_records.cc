// Scenarios and readings: the loads and places that they name.
#include <fmt/format.h>

#include "src/house/judge.h"

namespace evenleg {
namespace {

void judge_load_names(Judge& judge, std::string_view kind, std::size_t index, std::string_view key,
                      const std::vector<std::string>& names) {
  std::set<std::string> seen;
  for (const std::string& name : names) {
    if (!find(judge.loads, name)) {
      judge.fault(kind, index, key, fmt::format("no load is called \"{}\"", name),
                  remedy_for_unknown("load", name, names_in(judge.loads)));
    } else if (!seen.insert(name).second) {
      judge.fault(kind, index, key, fmt::format("load \"{}\" is listed twice", name),
                  "list it once");
    }
  }
}

void judge_scenario(Judge& judge, std::size_t s) {
  const Scenario& scenario = judge.house.scenarios[s];
  judge_load_names(judge, "scenario", s, "on", scenario.on);
  std::vector<std::string> shared;
  for (const auto& entry : scenario.share) shared.push_back(entry.first);
  judge_load_names(judge, "scenario", s, "share", shared);
  if (scenario.name == "as found") {
    judge.fault("scenario", s, "name", "\"as found\" is the loads that are on, and always there",
                "give the scenario another name");
  }
  if (!scenario.on.empty() && !scenario.share.empty()) {
    judge.fault("scenario", s, "share", "both on and share are given", "keep one of them");
  }
}

void judge_reading(Judge& judge, std::size_t r) {
  const Reading& reading = judge.house.readings[r];
  judge_load_names(judge, "reading", r, "on", reading.on);
  const bool panel = find(judge.panels, reading.at).has_value();
  const bool outlet = find(judge.outlets, reading.at).has_value();
  if (panel && outlet) {
    judge.fault("reading", r, "at",
                fmt::format("both a panel and an outlet are called \"{}\"", reading.at),
                "rename one of them");
  } else if (!panel && !outlet && !reading.at.empty()) {
    std::vector<std::string> known = names_in(judge.panels);
    for (std::string& name : names_in(judge.outlets)) known.push_back(std::move(name));
    judge.fault("reading", r, "at", fmt::format("no panel or outlet is called \"{}\"", reading.at),
                remedy_for_unknown("panel or outlet", reading.at, known));
  }
}

}  // namespace

void judge_records(Judge& judge) {
  for (std::size_t s = 0; s < judge.house.scenarios.size(); ++s) judge_scenario(judge, s);
  for (std::size_t r = 0; r < judge.house.readings.size(); ++r) judge_reading(judge, r);
}

}  // namespace evenleg
