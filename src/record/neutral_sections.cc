#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/drawing/multiwire.h"
#include "evenleg/drawing/service.h"
#include "evenleg/report/audit_words.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

ServiceAmps service_amps(const Job& job) {
  ServiceAmps service;
  for (const LegRow& leg : job.audit.legs) {
    service.legs.push_back({leg.leg, leg.amps.si(), leg.volts.si()});
  }
  for (const NeutralRow& row : job.audit.neutrals) {
    if (row.kind != PlaceKind::Service) continue;
    service.neutral_amps = row.amps.si();
    if (row.earth_return_amps) service.earth_amps = row.earth_return_amps->si();
  }
  service.split_phase = job.system.split_phase;
  return service;
}

Sheet legs_sheet(const Job& job) {
  Sheet sheet{"Legs",
              "The legs at the first panel, calculated with the loads on that are described as on",
              {{"leg", "", false}, {"current", "A", true}, {"to neutral", "V", true}},
              {},
              {},
              0};
  for (const LegRow& leg : job.audit.legs) {
    sheet.rows.push_back({leg.leg, number(leg.amps.si()), number(leg.volts.si())});
  }
  return sheet;
}

std::vector<OutletChange> changes_at(const Job& job, const NeutralDepth& depth) {
  std::vector<OutletChange> changes;
  if (depth.curve.empty()) return changes;
  const auto open = std::find_if(job.audit.open_neutral.begin(), job.audit.open_neutral.end(),
                                 [&](const OpenNeutral& one) { return one.place == depth.place; });
  const std::vector<OutletVolts>& sound = depth.curve.front().outlets;
  const std::vector<OutletVolts>& opened = depth.curve.back().outlets;
  for (std::size_t i = 0; i < std::min(sound.size(), opened.size()); ++i) {
    OutletChange change{sound[i].where,          sound[i].legs, sound[i].as_found.si(),
                        opened[i].as_found.si(), std::nullopt,  std::nullopt};
    if (open == job.audit.open_neutral.end()) continue;
    const auto raise = [&](const std::optional<Extreme<Volts>>& highest) {
      if (highest) change.worst = std::max(highest->value.si(), change.worst.value_or(0));
    };
    for (const LoadExtremes& row : open->loads) {
      const Load& load = job.house.loads[static_cast<std::size_t>(row.load)];
      const WiredLoad& wired = job.wiring.loads[static_cast<std::size_t>(row.load)];
      const Cable& cable = job.wiring.cables[static_cast<std::size_t>(wired.cable)];
      if (load.at != change.where ||
          legs_text(job.wiring, cable, wired.from, wired.to) != change.legs) {
        continue;
      }
      raise(row.highest);
      if (const auto limit = job.withstands(row.load)) {
        change.withstands = std::min(*limit, change.withstands.value_or(*limit));
      }
    }
    for (const OutletExtremes& row : open->outlets) {
      const bool here =
          job.house.outlets[static_cast<std::size_t>(row.outlet)].name == change.where;
      if (!here || row.legs != change.legs) continue;
      raise(row.highest);
      change.empty = true;
      change.withstands = plain_limit(job);
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

std::string limit_words(const Job& job, const std::optional<NeutralLimit>& limit) {
  if (!limit) return "";
  return job.house.loads[static_cast<std::size_t>(limit->load)].name;
}

// The limit of the service neutral in a sentence or two.
std::string ohms_words(const Fill& fill) {
  const auto reaches = [&](const NeutralLimit& limit) {
    return fmt::format(
        "With {} ohms added in the service neutral, {} reaches the {} V that it is taken to "
        "withstand, in the worst credible state{}.",
        figure(limit.ohms.si()), in_quotes(fill.load(limit.load).name), figure(limit.volts.si()),
        limit.proven ? "" : " that was found");
  };
  const auto& all = fill.job.audit.neutrals;
  const auto row = std::find_if(
      all.begin(), all.end(), [](const NeutralRow& one) { return one.kind == PlaceKind::Service; });
  if (row == all.end() || !row->limit) {
    return "No load was found past what it withstands, however bad the service neutral.";
  }
  if (row->limit->ohms.si() > 0) return reaches(*row->limit);
  return fmt::format(
             "{} can be past the {} V that it is taken to withstand with the neutral sound. ",
             in_quotes(fill.load(row->limit->load).name), figure(row->limit->volts.si())) +
         (row->next_limit ? reaches(*row->next_limit) : "No other load was found past its limit.");
}

// Multiwires whose hots share a leg have no place where their neutral could open onto another leg.
std::vector<std::string> same_leg_words(const Job& job) {
  std::vector<std::string> sentences;
  for (const Cable& cable : job.wiring.cables) {
    if (cable.multiwire < 0 || cable.hots.empty()) continue;
    const bool one_leg = std::all_of(cable.hots.begin(), cable.hots.end(), [&](const Hot& hot) {
      return hot.leg == cable.hots.front().leg;
    });
    if (!one_leg) continue;
    sentences.push_back(fmt::format(
        "{} is not drawn: all its hots sit on {}. With its neutral open, what hangs on it would go "
        "dead, the neutral beyond the break at leg voltage.",
        in_quotes(job.house.multiwires[static_cast<std::size_t>(cable.multiwire)].name),
        job.system.legs[static_cast<std::size_t>(cable.hots.front().leg)].name));
  }
  return sentences;
}

}  // namespace

Section service_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"service", "The service as found", {}, false};
  section.blocks.emplace_back(legs_sheet(job));
  section.blocks.emplace_back(draw_service_wires(service_amps(job)));
  return section;
}

Section neutrals_section(Fill& fill) {
  const Job& job = fill.job;
  Sheet sheet{"Neutrals",
              "What each neutral carries, and what a joint in it may add",
              {{"neutral", "", false},
               {"kind", "", false},
               {"as found", "A", true},
               {"highest", "A", true},
               {"highest proven", "", false},
               {"rated", "A", true},
               {"first limit at", "ohms", true},
               {"load that reaches it", "", false}},
              {},
              {},
              0};
  std::string rated_by;
  for (const NeutralRow& row : job.audit.neutrals) {
    sheet.rows.push_back(
        {row.place, std::string(name_of(row.kind)), number(row.amps.si()),
         row.highest ? number(row.highest->value.si()) : Cell{},
         row.highest ? proof_words(job, row.highest->proven, row.highest->bound.si(), "A") : "",
         row.rated_amps ? number(row.rated_amps->si()) : Cell{},
         row.limit ? number(row.limit->ohms.si()) : Cell{}, limit_words(job, row.limit)});
    const std::string mark = row.rated_amps ? marked(fill.sources, row.rated_source) : "";
    if (rated_by.find(mark) == std::string::npos) rated_by += mark;
  }
  sheet.notes.push_back(fmt::format(
      "as found: calculated, the loads on that are described as on. highest: over all credible "
      "states, all neutrals sound. rated: the conductor's ampacity{}. first limit at: the ohms "
      "that "
      "a joint adds where the first load leaves what it withstands, in some credible state; empty "
      "where none does, 0 where one is past it already.",
      rated_by));
  return {"neutrals", "The neutrals", {std::move(sheet)}, false};
}

Section neutral_ohms_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"neutral-ohms", "How bad the service neutral may get", {}, false};
  const NeutralDepth& depth = job.service;
  section.blocks.emplace_back(Paragraph{ohms_words(fill)});
  if (std::string words = ohms_beside_limit(job); !words.empty()) {
    section.blocks.emplace_back(Paragraph{std::move(words)});
  }
  section.blocks.emplace_back(draw_neutral_ohms(job.house, depth, volts_band(fill),
                                                measured_neutral_excess(job.house, job.diagnosis)));
  return section;
}

Section multiwires_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"multiwires", "If the shared neutral of a multiwire opens", {}, false};
  constexpr std::size_t kMostDrawn = 6;
  for (std::size_t i = 0; i < std::min(kMostDrawn, job.multiwires.size()); ++i) {
    const NeutralDepth& depth = job.multiwires[i];
    section.blocks.emplace_back(
        draw_multiwire(job.house, job.wiring, depth.place, changes_at(job, depth)));
  }
  for (const std::string& sentence : same_leg_words(job)) {
    section.blocks.emplace_back(Paragraph{sentence});
  }
  Sheet sheet{
      "Multiwires",
      "Volts beyond each shared run, its neutral whole and open",
      {{"multiwire", "", false},
       {"outlet", "", false},
       {"legs", "", false},
       {"whole", "V", true},
       {"open", "V", true},
       {"load at most", "V", true},
       {"withstands", "V", true}},
      {},
      {"whole, open: with the loads that are on as found. load at most: across a load there "
       "while it is on (at an empty outlet across its terminals), over all credible states, "
       "the neutral open. A load that is off takes less off its terminals than one that is "
       "on, so that they may show more than that."},
      0};
  for (const NeutralDepth& depth : job.multiwires) {
    for (const OutletChange& one : changes_at(job, depth)) {
      sheet.rows.push_back({depth.place.name, one.where, one.legs, number(one.sound),
                            number(one.open), number(one.worst),
                            one.empty ? Cell{} : number(one.withstands)});
    }
  }
  if (sheet.rows.empty()) {
    section.blocks.emplace_back(
        Paragraph{"No multiwire with its hots on different legs is described."});
  } else {
    section.blocks.emplace_back(std::move(sheet));
  }
  return section;
}

}  // namespace evenleg
