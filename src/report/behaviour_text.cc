#include "evenleg/report/behaviour_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

std::string some_names(const House& house, const std::vector<int>& loads) {
  constexpr std::size_t kMost = 3;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < loads.size() && i < kMost; ++i) {
    names.push_back(in_quotes(house.loads[at(loads[i])].name));
  }
  if (loads.size() > kMost) names.push_back(fmt::format("{} more", loads.size() - kMost));
  return listed(names);
}

std::string balance_sentence(const BehaviourResult& result) {
  const std::size_t all = result.points.size();
  const auto holding = static_cast<std::size_t>(
      std::count_if(result.points.begin(), result.points.end(),
                    [](const BalancePoint& point) { return point.stable; }));
  const bool floats =
      result.cascade.size() == 1 && result.cascade.front().end == CascadeEnd::Floats;
  std::string text;
  if (all == 0 && floats) {
    text = "No balance point: nothing that draws holds the neutral.";
  } else if (all == 0 && !result.all_statuses) {
    text = "No balance point was found.";
  } else if (all == 0) {
    text = "There is no balance point: in no way can these loads share the volts steadily.";
  } else if (holding == 0) {
    text =
        fmt::format("{}: the least change drives the loads away from it, and no state is stable.",
                    all == 1 ? "There is one balance point, and it does not hold"
                             : fmt::format("There are {} balance points, and none holds", all));
  } else if (all == 1) {
    text = "There is one balance point, and it holds.";
  } else {
    text = fmt::format("There are {} balance points, and {} would hold.", all,
                       holding == all ? "each"
                       : holding == 1 ? "one of them"
                                      : fmt::format("{} of them", holding));
  }
  if (!result.all_statuses) {
    text +=
        " Not each load's dropping out was tried for itself: those of one leg and like limits went "
        "together.";
  }
  return text;
}

// Loads that changed, by what they did first; a load that cycles is told once.
std::string changes_sentence(const House& house, const CascadeStep& step) {
  std::vector<int> locked, stalled;
  for (const StatusChange& change : step.changes) {
    if (change.to == LoadStatus::Running) continue;
    std::vector<int>& told = change.to == LoadStatus::Stalled ? stalled : locked;
    if (std::find(told.begin(), told.end(), change.load) == told.end()) {
      told.push_back(change.load);
    }
  }
  std::string text;
  if (!locked.empty())
    text += " Too few volts to run, drop out: " + some_names(house, locked) + ".";
  if (!stalled.empty()) text += " Stall: " + some_names(house, stalled) + ".";
  return text;
}

std::string cause_sentence(const House& house, const Tables& tables, const CascadeStep* before,
                           const CascadeStep& step) {
  if (step.cause == CascadeCause::Opened) return "The neutral is lost.";
  const std::string name = in_quotes(house.loads[at(step.load)].name);
  if (step.cause == CascadeCause::Tripped)
    return name + ", stalled, would be opened by its overload.";
  std::string text = name + " would fail open";
  for (const BehavingLoad& seen : before->loads) {
    if (seen.load != step.load) continue;
    text += fmt::format(", at {} V", shown(seen.volts.si()));
    const LoadKind* kind = find_kind(tables, house.loads[at(step.load)].kind);
    if (kind != nullptr && !kind->law.fails_after.empty()) {
      text += fmt::format(" (taken to last {})", kind->law.fails_after);
    }
  }
  return text + ".";
}

std::string course(const House& house, const Tables& tables, const BehaviourResult& result,
                   bool every_step) {
  constexpr std::size_t kMostSteps = 5;  // then how many follow
  const std::size_t steps = result.cascade.size();
  std::string text;
  const CascadeStep* before = nullptr;
  int number = 0;
  for (const CascadeStep& step : result.cascade) {
    if (!every_step && steps > kMostSteps && number == kMostSteps - 1) {
      return text +
             paragraph(fmt::format("and {} more, one after another. {}", steps - kMostSteps + 1,
                                   sentence(result.cascade.back().end)));
    }
    text +=
        paragraph(fmt::format("{}. {}{} {}", ++number, cause_sentence(house, tables, before, step),
                              changes_sentence(house, step), sentence(step.end)),
                  2, 3);
    before = &step;
  }
  return text;
}

std::string status_text(const BehavingLoad& seen) {
  std::string text = seen.conducting ? "conducting" : std::string(name_of(seen.status));
  if (seen.past_failing) text += ", past what it lasts under";
  return text;
}

std::string volts_table(const House& house, const BehaviourResult& result) {
  const CascadeStep& first = result.cascade.front();
  const CascadeStep& last = result.cascade.back();
  TextTable table({{"load"},
                   {"outlet"},
                   {"at first V", Align::Right},
                   {"at last V", Align::Right},
                   {"at last"}});
  for (std::size_t i = 0; i < last.loads.size(); ++i) {
    const BehavingLoad& seen = last.loads[i];
    const Load& load = house.loads[at(seen.load)];
    table.add({load.name, load.at, shown(first.loads[i].volts.si()),
               seen.status == LoadStatus::FailedOpen ? "-" : shown(seen.volts.si()),
               status_text(seen)});
  }
  return table.text();
}

std::string points_table(const House& house, const BehaviourResult& result) {
  std::string text;
  int number = 0;
  for (const BalancePoint& point : result.points) {
    text += "\n" + paragraph(fmt::format("Balance point {}, {}: the neutral displaced by {} V",
                                         ++number, point.stable ? "holds" : "does not hold",
                                         shown(std::abs(point.displacement.si()))));
    TextTable table({{"load"}, {"outlet"}, {"V", Align::Right}, {"then"}});
    for (const BehavingLoad& seen : point.loads) {
      const Load& load = house.loads[at(seen.load)];
      table.add({load.name, load.at, shown(seen.volts.si()), status_text(seen)});
    }
    text += table.text();
  }
  return text;
}

}  // namespace

std::string behaviour_text(const House& house, const Tables& tables, const BehaviourResult& result,
                           bool every_point) {
  if (!result.connected) return paragraph("No load beyond it is on.");
  if (!result.any_law) {
    return paragraph(
        "Every load that is on beyond it is a constant impedance: the reference is its behaviour.");
  }
  std::string text = paragraph(balance_sentence(result));
  text += course(house, tables, result, every_point) + volts_table(house, result);
  const bool cycles =
      std::any_of(result.cascade.begin(), result.cascade.end(),
                  [](const CascadeStep& step) { return step.end == CascadeEnd::Cycles; });
  if (cycles) text += paragraph("Where loads drop out and return by turns, V is the highest seen.");
  return every_point ? text + points_table(house, result) : text;
}

}  // namespace evenleg
