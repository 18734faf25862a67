#include <algorithm>
#include <set>

#include "evenleg/report/audit_words.h"
#include "evenleg/report/behaviour_text.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr std::size_t kPlacesUnlessAll = 2;

std::string state_words(const AuditView& view, const StateBehaviour& state) {
  if (state.as_found) return "as found";
  return fmt::format("in the state of {} loads that take {} highest", state.on.size(),
                     in_quotes(view.load(state.worst_load).name));
}

// What to show of a place: its worst state if it departs from the reference, else as found.
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

std::string laws(const AuditView& view, SourceList& sources) {
  std::string text = paragraph("Laws used, limits per unit of nameplate volts (or V):");
  std::set<std::string> told;
  for (const Load& load : view.house.loads) {
    const LoadKind* kind = find_kind(view.tables, load.kind);
    if (kind == nullptr || is_constant_impedance(kind->law)) continue;
    if (!told.insert(kind->law.name).second) continue;
    text += paragraph(fmt::format("{}: {} {}{}", kind->law.name, kind->law.text,
                                  sources.mark(kind->law.source), limits_of(kind->law, sources)),
                      4, 4);
    if (!kind->law.note.empty()) text += paragraph(kind->law.note, 8);
  }
  return text;
}

}  // namespace

std::string behaviour_section(const AuditView& view, SourceList& sources) {
  std::string text;
  std::size_t shown_places = 0, further = 0, quiet = 0;
  std::vector<std::string> seen;
  for (const OpenNeutral& open : view.audit.open_neutral) {
    if (open.behaviour.empty()) continue;
    const StateBehaviour* only = telling(open);
    if (only == nullptr && !view.options.all) {
      ++quiet;
      continue;
    }
    for (const StateBehaviour& state : open.behaviour) {
      if (!view.options.all && &state != only) continue;
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
                                    state_words(view, state))) +
              told;
    }
  }
  if (text.empty() && quiet == 0) return "";
  std::string head = heading("How real loads would behave, beside the reference");
  head += paragraph(
      "Electronics, lamps and motors by laws from the sources named, to see what constant "
      "impedances cannot show: loads that drop out, run away, stall, fail one after another. It "
      "does not replace the figures above, and what a given make does can differ.");
  if (further > 0) {
    text += "\n" + paragraph(fmt::format("{} more places or states depart from the reference (in "
                                         "full with --all).",
                                         further));
  }
  if (quiet > 0) {
    text += "\n" + paragraph(fmt::format("At {} other places, as found and in the worst state, the "
                                         "loads come to rest with none dropped out or failed.",
                                         quiet));
  }
  return head + text + "\n" + laws(view, sources);
}

}  // namespace evenleg
