#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/report/audit_words.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

// The largest other loads that run in that state.
std::string others_in(const Job& job, const RankRow& row) {
  std::vector<int> others = row.on;
  others.erase(std::remove(others.begin(), others.end(), row.load), others.end());
  others = large_first(job.house, job.tables, others);
  constexpr std::size_t kMost = 3;
  const std::size_t more = others.size() > kMost ? others.size() - kMost : 0;
  others.resize(others.size() - more);
  std::vector<std::string> names = load_names(job.house, others);
  if (more > 0) names.push_back(fmt::format("{} more", more));
  return listed(names);
}

}  // namespace

Section ranking_section(Fill& fill) {
  const Job& job = fill.job;
  Sheet sheet{"Ranking",
              "Worst first: each load where an open neutral hits it hardest",
              {{"#", "", true},
               {"load", "", false},
               {"outlet", "", false},
               {"neutral open at", "", false},
               {"highest", "V", true},
               {"withstands", "V", true},
               {"over", "", true},
               {"severity", "", false},
               {"proven", "", false},
               {"with these on", "", false}},
              {},
              {},
              20};
  for (std::size_t i = 0; i < job.audit.ranking.size(); ++i) {
    const RankRow& row = job.audit.ranking[i];
    const OpenNeutral& open = job.audit.open_neutral[static_cast<std::size_t>(row.place)];
    const LoadExtremes* extremes = extremes_of(open, row.load);
    const bool known = extremes != nullptr && extremes->highest;
    sheet.rows.push_back(
        {count(i + 1), fill.load(row.load).name, fill.load(row.load).at, open.place.name,
         number(row.volts.si()), number(row.withstands.si()), with_decimals(row.over, 2),
         row.severity,
         known ? proof_words(job, extremes->highest->proven, extremes->highest->bound.si(), "V")
               : "",
         others_in(job, row)});
  }
  sheet.notes.push_back(
      "highest: the most that the load could have with that neutral open, over all credible states "
      "in which it is on. withstands: what it is taken to withstand without end. over: the first "
      "over the second. Loads are taken as constant impedances.");
  return {"ranking", "What an open neutral would hit first", {std::move(sheet)}, false};
}

Section outlets_section(Fill& fill) {
  const std::vector<OutletSpan> spans = outlet_spans(fill.job);
  Section section{"outlets", "Every outlet, as found and at worst", {}, false};
  std::vector<VoltsSpan> drawn;
  for (const OutletSpan& span : spans) drawn.push_back(span.volts);
  for (Drawing& drawing : draw_volts_spans(drawn, volts_band(fill), "outlets",
                                           "Volts at every outlet, as found and at worst")) {
    section.blocks.emplace_back(std::move(drawing));
  }
  Sheet sheet{"Outlets",
              "Volts at every outlet on a neutral, furthest over its limit first",
              {{"outlet", "", false},
               {"legs", "", false},
               {"as found", "V", true},
               {"lowest", "V", true},
               {"highest", "V", true},
               {"highest with open", "", false},
               {"withstands", "V", true},
               {"both proven", "", false}},
              {},
              {},
              40};
  for (const OutletSpan& span : spans) {
    sheet.rows.push_back({span.volts.name, span.volts.legs, number(span.volts.as_found),
                          number(span.volts.lowest), number(span.volts.highest), span.open_at,
                          span.volts.empty ? Cell{} : number(span.volts.withstands),
                          !fill.job.audit.certified ? "not asked for"
                          : span.proven             ? "yes"
                                                    : "no"});
  }
  sheet.notes.push_back(
      "as found: calculated, all neutrals sound, the loads on that are described as on. lowest, "
      "highest: over all credible "
      "states and all places where a neutral can open. withstands: the least of what the loads "
      "there withstand, empty where nothing is described; there what a plain load withstands "
      "counts in the order, which is by volts over that. not proven: a credible state may go "
      "further; the ranking has the bound.");
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

}  // namespace evenleg
