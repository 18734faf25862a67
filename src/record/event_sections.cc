#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/network/places.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

// The neutral that is taken to have opened: the one asked for, else the one that the readings speak
// against, else the service's.
const OpenNeutral* event_place(const Fill& fill) {
  const std::vector<OpenNeutral>& all = fill.job.audit.open_neutral;
  if (all.empty()) return nullptr;
  const auto named = [&](const std::string& name) {
    return std::find_if(all.begin(), all.end(),
                        [&](const OpenNeutral& one) { return one.place.name == name; });
  };
  if (fill.options.place) {
    const auto found = named(*fill.options.place);
    if (found != all.end()) return &*found;
    std::vector<std::string> names;
    for (const OpenNeutral& one : all) names.push_back(one.place.name);
    throw Error(
        ErrorKind::Request,
        {"--place", fmt::format("no neutral that legs share is named \"{}\"", *fill.options.place),
         "choose " + listed(names)});
  }
  for (const JointHeat& heat : joint_heats(diagnosis_view(fill.job))) {
    const auto found = named(heat.place);
    if (found != all.end()) return &*found;
  }
  return &all.front();
}

double most_of(const LoadExtremes& row) {
  const double bound = row.highest->bound.si();
  return std::isfinite(bound) ? std::max(bound, row.highest->value.si()) : row.highest->value.si();
}

double least_of(const LoadExtremes& row) {
  const double bound = row.lowest->bound.si();
  return std::isfinite(bound) ? std::max(0.0, std::min(bound, row.lowest->value.si()))
                              : row.lowest->value.si();
}

struct Exposed {
  int load = 0;
  double least = 0, most = 0;
  std::optional<double> withstands;

  [[nodiscard]] bool past() const { return withstands && most > *withstands; }
};

std::vector<Exposed> exposed_at(const Fill& fill) {
  std::vector<Exposed> rows;
  const OpenNeutral* open = event_place(fill);
  if (open == nullptr) return rows;
  for (const LoadExtremes& row : open->loads) {
    if (!row.highest || !row.lowest) continue;
    rows.push_back({row.load, least_of(row), most_of(row), withstands(fill.job, row.load)});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Exposed& a, const Exposed& b) {
    const auto over = [](const Exposed& one) {
      return one.withstands ? one.most / *one.withstands : 0.0;
    };
    return over(a) > over(b);
  });
  return rows;
}

}  // namespace

Section exposed_section(Fill& fill) {
  Section section{"exposed", "What was exposed, and what it could have had", {}, false};
  const OpenNeutral* open = event_place(fill);
  if (open == nullptr) {
    section.blocks.emplace_back(
        Paragraph{"No load of this house hangs on a neutral that legs share."});
    return section;
  }
  section.blocks.emplace_back(Paragraph{fmt::format(
      "Should {} have opened or loosened, these loads were beyond it. The volts that each really "
      "had "
      "cannot be known afterwards; the range is what it could have had, over all credible states.",
      neutral_at(open->place))});
  Sheet sheet{"Exposed",
              fmt::format("Loads beyond {}", neutral_at(open->place)),
              {{"load", "", false},
               {"outlet", "", false},
               {"could have had from", "V", true},
               {"to", "V", true},
               {"withstands", "V", true},
               {"could have been past it", "", false}},
              {},
              {},
              0};
  for (const Exposed& row : exposed_at(fill)) {
    const Load& load = fill.load(row.load);
    sheet.rows.push_back({load.name, load.at, number(row.least), number(row.most),
                          number(row.withstands),
                          row.withstands ? (row.past() ? "yes" : "no") : "not known"});
  }
  sheet.notes.push_back(
      "Where a highest or lowest value is not proven, the range reaches to the bound that no "
      "credible state exceeds. Loads are taken as constant impedances.");
  section.blocks.emplace_back(std::move(sheet));
  if (const std::string damaged = visit_field(fill.job.house, "damaged"); !damaged.empty()) {
    section.blocks.emplace_back(Fields{{{"Reported as damaged", damaged}}});
  }
  return section;
}

Section to_test_section(Fill& fill) {
  Section section{"to-test", "What to have tested", {}, false};
  Bullets list;
  for (const Exposed& row : exposed_at(fill)) {
    if (!row.past()) continue;
    const Load& load = fill.load(row.load);
    list.items.push_back(fmt::format("{} ({}), which withstands {} V and could have had up to {} V",
                                     load.name, load.at, figure(*row.withstands),
                                     figure(row.most)));
  }
  if (list.items.empty()) {
    list.items.push_back("No load described here could have been past what it withstands.");
  }
  section.blocks.emplace_back(std::move(list));
  section.blocks.emplace_back(Paragraph{
      "Beyond what is described, it is common practice to look at: smoke and carbon monoxide "
      "alarms, surge protectors and plug strips, GFCI and AFCI devices, dimmers and timers, LED "
      "and "
      "fluorescent lamps, controls of heating and cooling, motors and their insulation, and the "
      "neutral's own joints. By qualified persons; test marks fade, what seems to work may fail "
      "later."});
  return section;
}

Section claim_section(Fill& fill) {
  Section section{"claim", "List for a claim", {}, true};
  Sheet sheet{"Claim",
              "To be completed by the owner; keep replaced parts and receipts",
              {{"item", "", false},
               {"where", "", false},
               {"could have had up to", "V", true},
               {"make and model", "", false},
               {"bought", "", false},
               {"state after the event", "", false},
               {"cost", "", false}},
              {},
              {},
              0};
  for (const Exposed& row : exposed_at(fill)) {
    if (!row.past()) continue;
    const Load& load = fill.load(row.load);
    sheet.rows.push_back({load.name, load.at, number(row.most), "", "", "", ""});
  }
  if (sheet.rows.empty()) {
    section.blocks.emplace_back(
        Paragraph{"No load described here could have been past what it withstands."});
  } else {
    section.blocks.emplace_back(std::move(sheet));
  }
  section.blocks.emplace_back(
      Fields{{{"Date and hour of the event", visit_field(fill.job.house, "event")},
              {"Weather then", visit_field(fill.job.house, "weather")},
              {"Utility's job number", visit_field(fill.job.house, "utility_job")}}});
  return section;
}

}  // namespace evenleg
