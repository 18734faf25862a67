#include <algorithm>
#include <set>

#include "evenleg/report/audit_words.h"
#include "evenleg/report/behaviour_text.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr std::size_t kPlacesUnlessAll = 2;

// What to show of a place: as found if that departs from the reference, else its worst state if
// that does.
const StateBehaviour* telling(const OpenNeutral& open) {
  for (const StateBehaviour& state : open.behaviour) {
    if (departs(state.result)) return &state;
  }
  return nullptr;
}

std::string limits_of(const LoadLaw& law, SourceList& sources) {
  std::string text;
  const auto add = [&](std::string_view words, const std::optional<double>& at) {
    if (at) text += fmt::format("; {} {}{}", words, figure(*at), law.limits_in_volts ? " V" : "");
  };
  add("off below", law.off_below);
  add("on above", law.on_above);
  add("stalls below", law.stalls_below);
  add("restarts above", law.restarts_above);
  add("opens above", law.fails_above);
  if (law.fails_above) text += " after " + law.fails_after;
  const std::string mark = sources.mark(law.limits_source);
  return text + (mark.empty() ? "" : " " + mark);
}

// The loads that behave by a law in some state; entered in ohms they do not.
std::set<int> behaving(const House& house, const std::vector<const StateBehaviour*>& states) {
  std::set<int> loads;
  for (const StateBehaviour* state : states) {
    for (const CascadeStep& step : state->result.cascade) {
      for (const BehavingLoad& seen : step.loads) {
        if (!house.loads[static_cast<std::size_t>(seen.load)].ohms) loads.insert(seen.load);
      }
    }
  }
  return loads;
}

std::string protection(const OpenNeutral& open) {
  if (!open.protected_by) return "";
  return paragraph(
      fmt::format("The neutral-loss device of {} would open first in some state; what "
                  "follows is without it.",
                  in_quotes(*open.protected_by)));
}

std::vector<const StateBehaviour*> all_states(const Audit& audit) {
  std::vector<const StateBehaviour*> states;
  for (const OpenNeutral& open : audit.open_neutral) {
    for (const StateBehaviour& state : open.behaviour) states.push_back(&state);
  }
  return states;
}

}  // namespace

std::string state_words(const House& house, const StateBehaviour& state) {
  if (state.as_found) return "as found";
  return fmt::format("in the state of {} {} highest",
                     counted(state.on.size(), "load that takes", "loads that take"),
                     in_quotes(house.loads[static_cast<std::size_t>(state.worst_load)].name));
}

std::string too_many(const Place& place, int loads) {
  return paragraph(fmt::format(
      "With {} open, {} loads follow laws of their own in some state: more than are followed here, "
      "so that state was not looked at.",
      neutral_at(place), loads));
}

std::string behaviour_head() {
  return heading("How real loads would behave, beside the reference") +
         paragraph(
             "Electronics, lamps and motors by laws from the sources named, to see what constant "
             "impedances cannot show: loads that drop out, run away, stall, fail one after "
             "another. It does not replace the figures above, and what a given make does can "
             "differ. The order of failures is by how far past its limit each load is, not by "
             "time.");
}

std::string laws_used(const House& house, const Tables& tables,
                      const std::vector<const StateBehaviour*>& states, SourceList& sources) {
  std::string text =
      paragraph("Laws used; limits are per unit of nameplate volts, or volts where V stands:");
  std::set<std::string> told;
  for (const int load : behaving(house, states)) {
    const LoadKind* kind = find_kind(tables, house.loads[static_cast<std::size_t>(load)].kind);
    if (kind == nullptr || is_constant_impedance(kind->law)) continue;
    if (!told.insert(kind->law.name).second) continue;
    text += paragraph(fmt::format("{}: {} {}{}", kind->law.name, kind->law.text,
                                  sources.mark(kind->law.source), limits_of(kind->law, sources)),
                      4, 4);
    if (!kind->law.note.empty()) text += paragraph(kind->law.note, 8);
  }
  return text;
}

std::string behaviour_section(const AuditView& view, SourceList& sources) {
  std::string text;
  std::size_t shown_places = 0, further = 0, quiet = 0;
  std::vector<std::string> seen;
  std::string left_out;
  for (const OpenNeutral& open : view.audit.open_neutral) {
    if (open.behaviour_left_out > 0) left_out += "\n" + too_many(open.place, open.behaviour_left_out);
    if (open.behaviour.empty()) continue;
    const StateBehaviour* only = telling(open);
    if (only == nullptr && !view.options.all) {
      ++quiet;
      continue;
    }
    for (const StateBehaviour& state : open.behaviour) {
      if (!view.options.all && &state != only) {
        if (departs(state.result)) ++further;
        continue;
      }
      const std::string told =
          behaviour_text(view.house, view.tables, state.result, view.options.all);
      // Breaks in one length after another often show the same.
      const bool known = std::find(seen.begin(), seen.end(), told) != seen.end();
      if (!view.options.all && (known || shown_places == kPlacesUnlessAll)) {
        ++further;
        continue;
      }
      seen.push_back(told);
      ++shown_places;
      text += "\n" +
              paragraph(fmt::format("With {} open, {}:", neutral_at(open.place),
                                    state_words(view.house, state))) +
              protection(open) + told;
    }
  }
  if (text.empty() && quiet == 0 && left_out.empty()) return "";
  text += left_out;
  if (further > 0) {
    text += "\n" + paragraph(fmt::format("{} from the reference (in full with --all).",
                                         counted(further, "more place or state departs",
                                                 "more places or states depart")));
  }
  if (quiet > 0) {
    text += "\n" + paragraph(fmt::format("At {}, as found and in the worst state, these laws show "
                                         "no load dropping out, stalling or "
                                         "failing; the volts and limits above still stand.",
                                         counted(quiet, text.empty() ? "place" : "other place")));
  }
  return behaviour_head() + text + "\n" +
         laws_used(view.house, view.tables, all_states(view.audit), sources);
}

}  // namespace evenleg
