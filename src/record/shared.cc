#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "src/record/fill.h"

namespace evenleg {

std::string marked(SourceList& sources, const Citation& source) {
  const std::string mark = sources.mark(source);
  return mark.empty() ? "" : " " + mark;
}

std::string marked(SourceList& sources, const std::string& source) {
  const std::string mark = sources.mark(source);
  return mark.empty() ? "" : " " + mark;
}

std::string house_words(const House& house) {
  const std::string name = name_of(house);
  return name.empty() ? "A house without a name" : name;
}

std::string visit_field(const House& house, const std::string& key) {
  const auto found = house.visit.find(key);
  return found == house.visit.end() ? "" : found->second;
}

DiagnosisView diagnosis_view(const Job& job) {
  return {job.house, job.tables, job.diagnosis, &job.audit, nullptr, false};
}

std::string proof_words(const Job& job, bool proven, double bound, std::string_view unit) {
  if (!job.audit.certified) return "not asked for";
  if (proven) return "yes";
  return std::isfinite(bound) ? fmt::format("no; none above {} {}", figure(bound), unit) : "no";
}

std::string neutral_pattern(const Job& job) {
  if (job.diagnosis.patterns.empty()) return "";
  const PatternMatch& first = job.diagnosis.patterns.front();
  const bool of_neutral = std::find(std::begin(kNeutralPatterns), std::end(kNeutralPatterns),
                                    first.name) != std::end(kNeutralPatterns);
  return of_neutral ? first.title : "";
}

std::vector<std::string> neutral_evidence(const Job& job) {
  std::vector<std::string> sentences;
  for (const SectionEstimate& section : job.diagnosis.estimation.sections) {
    for (const ConductorEstimate& one : section.conductors) {
      if (!one.stands_out || one.conductor != "N") continue;
      std::string text = fmt::format("Neutral from {} to {}: {} ohms measured",
                                     section.from.empty() ? "the source" : section.from, section.to,
                                     fitted_ohms(one.ohms));
      text += one.expected_ohms
                  ? fmt::format(", {} ohms expected of its run.", fitted_ohms(*one.expected_ohms))
                  : ", more than the other conductors.";
      sentences.push_back(std::move(text));
    }
  }
  return sentences;
}

std::vector<OutletSpan> outlet_spans(const Job& job) {
  std::vector<OutletSpan> spans;
  std::map<std::pair<std::string, std::string>, std::size_t> known;
  const auto span_of = [&](const std::string& where, const std::string& legs) -> OutletSpan& {
    const auto [entry, is_new] = known.try_emplace({where, legs}, spans.size());
    if (is_new) {
      spans.push_back(
          {{where, legs, std::nullopt, std::nan(""), std::nan(""), std::nullopt}, "", true});
    }
    return spans[entry->second];
  };
  const auto widen = [&](OutletSpan& span, const OpenNeutral& open, const Extreme<Volts>& highest,
                         const Extreme<Volts>& lowest) {
    if (!(span.volts.highest >= highest.value.si())) {
      span.volts.highest = highest.value.si();
      span.open_at = open.place.name;
    }
    if (!(span.volts.lowest <= lowest.value.si())) span.volts.lowest = lowest.value.si();
    span.proven = span.proven && highest.proven && lowest.proven;
  };
  for (const OpenNeutral& open : job.audit.open_neutral) {
    for (const LoadExtremes& row : open.loads) {
      if (!row.highest || !row.lowest) continue;
      const WiredLoad& wired = job.wiring.loads[static_cast<std::size_t>(row.load)];
      OutletSpan& span =
          span_of(job.house.loads[static_cast<std::size_t>(row.load)].at,
                  legs_text(job.wiring, job.wiring.cables[static_cast<std::size_t>(wired.cable)],
                            wired.from, wired.to));
      widen(span, open, *row.highest, *row.lowest);
      if (const auto limit = job.withstands(row.load)) {
        span.volts.withstands = std::min(*limit, span.volts.withstands.value_or(*limit));
      }
    }
    for (const OutletExtremes& row : open.outlets) {
      if (!row.highest || !row.lowest) continue;
      widen(span_of(job.house.outlets[static_cast<std::size_t>(row.outlet)].name, row.legs), open,
            *row.highest, *row.lowest);
    }
  }
  if (!job.service.curve.empty()) {
    for (const OutletVolts& row : job.service.curve.front().outlets) {
      const auto found = known.find({row.where, row.legs});
      if (found != known.end()) spans[found->second].volts.as_found = row.as_found.si();
    }
  }
  for (OutletSpan& span : spans) {
    span.volts.empty = !span.volts.withstands;
    if (span.volts.empty) span.volts.withstands = plain_limit(job);
  }
  std::stable_sort(spans.begin(), spans.end(), [](const OutletSpan& a, const OutletSpan& b) {
    const auto over = [](const OutletSpan& span) {
      return span.volts.highest / *span.volts.withstands;
    };
    return over(a) > over(b);
  });
  return spans;
}

const VoltageLimits* supply_limits(const Job& job) {
  const VoltageLimits* widest = nullptr;
  for (const VoltageLimits& limits : job.tables.voltage_limits) {
    if (limits.base_volts != job.system.nominal_volts) continue;
    if (widest == nullptr || limits.most_volts > widest->most_volts) widest = &limits;
  }
  return widest;
}

std::optional<VoltsBand> volts_band(const Fill& fill) {
  const VoltageLimits* limits = supply_limits(fill.job);
  if (limits == nullptr) return std::nullopt;
  return VoltsBand{limits->least_volts, limits->most_volts,
                   fmt::format("{}, {}{}", limits->name, limits->jurisdiction,
                               marked(fill.sources, limits->source))};
}

}  // namespace evenleg
