#include "evenleg/report/neutral_text.h"

#include <algorithm>

#include "evenleg/report/audit_words.h"
#include "evenleg/report/behaviour_text.h"
#include "src/report/audit_sections.h"
#include "src/report/neutral_sections.h"

namespace evenleg {
namespace {

std::string title(const NeutralView& view) {
  constexpr int kMostName = 60;  // columns; beside it stand the system and the place
  const std::string name = shortened(name_of(view.house), kMostName);
  std::string text = (name.empty() ? std::string("A house without a name") : name) + ", " +
                     view.house.supply.system + ": " + neutral_at(view.depth.place) +
                     " from sound to open";
  if (view.options.scenario) text += ", as in scenario " + in_quotes(*view.options.scenario);
  if (!view.depth.certified) text += ", searched without proof";
  return paragraph(text, 0);
}

// "" where every figure is known to be the extreme.
std::string marks_explained(const NeutralView& view) {
  if (!view.depth.certified) {
    return paragraph(
        "?: searched without proof; these are the furthest that were found, and a credible state "
        "may go further.");
  }
  const auto row_uncertain = [](const auto& row) {
    return !is_certain(true, row.highest) || !is_certain(true, row.lowest);
  };
  const auto uncertain = [&](const NeutralPoint& point) {
    if (row_uncertain(point) || !is_certain(true, point.highest_heat)) return true;
    return told_by_load(view, point) &&
           (std::any_of(point.loads.begin(), point.loads.end(), row_uncertain) ||
            std::any_of(point.empty.begin(), point.empty.end(), row_uncertain));
  };
  const auto& curve = view.depth.curve;
  if (std::none_of(curve.begin(), curve.end(), uncertain)) {
    const auto any_volts = [](const NeutralPoint& point) {
      return point.highest || !point.empty.empty();
    };
    if (std::none_of(curve.begin(), curve.end(), any_volts)) return "";
    return paragraph("Lowest and highest: each proven to 0.01 V at its resistance.");
  }
  return paragraph(
      "?: found, not proven. 230 (≤ 240): 230 was found, more is not ruled out, and no credible "
      "state exceeds 240; (≥ ...) says the same of a lowest figure. The others are proven.");
}

std::string behaviour_part(const NeutralView& view, SourceList& sources) {
  if (view.depth.behaviour.empty() && view.depth.behaviour_left_out == 0) return "";
  std::string text = behaviour_head();
  if (view.depth.behaviour_left_out > 0) {
    text += "\n" + too_many(view.depth.place, view.depth.behaviour_left_out);
  }
  if (view.depth.behaviour.empty()) return text;
  std::vector<const StateBehaviour*> states;
  for (const StateBehaviour& state : view.depth.behaviour) {
    states.push_back(&state);
    const std::string words = fmt::format("With {} open, {}", neutral_at(view.depth.place),
                                          state_words(view.house, state));
    if (!departs(state.result) && !view.options.all) {
      text += "\n" + paragraph(words +
                               ", these laws show no load dropping out, stalling or "
                               "failing; the volts and limits above still stand.");
      continue;
    }
    text += "\n" + paragraph(words + ":") +
            behaviour_text(view.house, view.tables, state.result, view.options.all);
  }
  return text + "\n" + laws_used(view.house, view.tables, states, sources);
}

std::string limits_part(const NeutralView& view, SourceList& sources) {
  const std::vector<int> beyond = loads_beyond(view.depth);
  if (beyond.empty() && sources.entries().empty()) return "";
  std::string text = heading("Limits and their sources");
  if (!beyond.empty()) text += withstood_figures(view.house, view.tables, beyond, sources);
  return text + (sources.entries().empty() ? "" : "\n" + source_entries(sources));
}

}  // namespace

std::optional<Volts> withstands(const NeutralView& view, int load) {
  const Load& described = view.load(load);
  if (described.max_volts) return volts(*described.max_volts);
  const LoadKind* kind = view.kind(load);
  if (kind == nullptr) return std::nullopt;
  for (const SupplySystem& system : view.tables.systems) {
    if (system.name != view.house.supply.system) continue;
    return volts(withstood_volts(*kind, described.volts.value_or(system.nominal_volts)));
  }
  return std::nullopt;
}

std::vector<int> loads_beyond(const NeutralDepth& depth) {
  std::vector<int> loads;
  if (depth.curve.empty()) return loads;
  for (const LoadExtremes& row : depth.curve.front().loads) loads.push_back(row.load);
  return loads;
}

bool is_limit(const std::optional<NeutralLimit>& limit, const NeutralPoint& point) {
  return limit && limit->ohms == point.added;
}

bool told_by_load(const NeutralView& view, const NeutralPoint& point) {
  return point.added == ohms(0) || !std::isfinite(point.added.si()) ||
         is_limit(view.depth.high, point) || is_limit(view.depth.low, point);
}

std::string neutral_text(const House& house, const Tables& tables, const NeutralDepth& depth,
                         const NeutralTextOptions& options) {
  const NeutralView view{house, tables, depth, options};
  SourceList sources;
  std::string text = title(view) + answer_section(view, sources);
  if (!depth.curve.empty()) {
    text += legs_by_ohms(view) + extremes_by_ohms(view) + outlets_by_ohms(view) +
            loads_by_ohms(view) + marks_explained(view);
  }
  text += behaviour_part(view, sources);
  text += limits_part(view, sources);
  return text + cautions_section();
}

}  // namespace evenleg
