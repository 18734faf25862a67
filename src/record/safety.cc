#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/network/places.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/cautions.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

constexpr int kMostColumns = 40;  // of an outlet's name in a sentence

bool is_for_client(const Fill& fill) { return fill.options.reader == Reader::Client; }

// What the readings have to say of it.
std::string of_readings(const Fill& fill) {
  const Job& job = fill.job;
  const std::string pattern = neutral_pattern(job);
  if (!pattern.empty() || !neutral_evidence(job).empty()) {
    if (is_for_client(fill)) {
      return fmt::format(
          "What was measured{} fits a poor connection in a wire that the parts of the supply "
          "share, "
          "the neutral. It does not show why.",
          pattern.empty() ? "" : " and reported");
    }
    return pattern.empty()
               ? "The readings are consistent with added resistance in a neutral. They name no "
                 "cause."
               : fmt::format("Readings and reports are consistent with {}. They name no cause.",
                             pattern);
  }
  if (job.house.readings.empty() && !job.log) {
    return is_for_client(fill)
               ? "Nothing was measured. Whether a shared wire of the supply, a neutral, is loose "
                 "or "
                 "open is not known; this page says what to do if one is."
               : "Nothing was measured: whether a neutral is loose or open was not determined.";
  }
  return "What was measured does not speak for a loose or open neutral, and does not rule one out.";
}

// The place that a record is about: a client's the service, an event's its own; else all.
const OpenNeutral* place_of(const Fill& fill) {
  if (fill.options.reader == Reader::Event) return event_place(fill);
  const std::vector<OpenNeutral>& all = fill.job.audit.open_neutral;
  return is_for_client(fill) && !all.empty() ? &all.front() : nullptr;
}

std::string of_loads(const Fill& fill, const Exposure& exposed) {
  const Load& load = fill.load(exposed.worst_load);
  if (is_for_client(fill)) {
    return fmt::format(
        "If the neutral of the supply opened, {} of the {} things described here could get more "
        "volts than they are made for. The worst is {} ({}): up to {} volts where it is made for "
        "{}.",
        exposed.loads_past, fill.job.house.loads.size(), in_quotes(load.name),
        shortened(load.at, kMostColumns), figure(exposed.worst_volts),
        figure(load.volts.value_or(fill.job.system.nominal_volts)));
  }
  return fmt::format(
      "By calculation, if a neutral opened, {} of {} could be past what they withstand. Worst: {} "
      "({}), up to {} V with {} open; it withstands {} V.",
      exposed.loads_past, counted(fill.job.house.loads.size(), "load"), in_quotes(load.name),
      shortened(load.at, kMostColumns), figure(exposed.worst_volts),
      neutral_at(exposed.worst_open->place), figure(exposed.worst_withstands));
}

std::string of_outlets(const Fill& fill, const Exposure& exposed) {
  const std::string& name =
      fill.job.house.outlets[static_cast<std::size_t>(exposed.worst_outlet)].name;
  return fmt::format(
      "Whatever else is plugged in at {} with nothing described could get up to {} V ({}).",
      exposed.outlets_past == 1 ? "an outlet" : fmt::format("{} outlets", exposed.outlets_past),
      figure(exposed.worst_outlet_volts), in_quotes(name));
}

std::vector<std::string> of_audit(const Fill& fill, const Exposure& exposed) {
  std::vector<std::string> sentences;
  if (exposed.loads_past > 0) sentences.push_back(of_loads(fill, exposed));
  if (exposed.outlets_past > 0) sentences.push_back(of_outlets(fill, exposed));
  return sentences;
}

// For a client what to do comes before how it is noticed.
std::vector<std::string> actions_first(std::vector<std::string> sentences) {
  if (!sentences.empty()) std::rotate(sentences.begin(), sentences.begin() + 1, sentences.end());
  return sentences;
}

// What someone on site marked as urgent, else the dangers that the wiring shows.
std::vector<std::string> first_steps(const Job& job) {
  std::vector<std::string> steps;
  for (const char* urgency : {"now", "soon"}) {
    for (const SiteFinding& finding : job.house.findings) {
      if (finding.urgency != urgency || !finding.recommendation) continue;
      steps.push_back(fmt::format("{}{}: {}", capitalised(urgency),
                                  finding.where ? ", " + *finding.where : "",
                                  *finding.recommendation));
    }
  }
  for (const WiringFinding& finding : job.audit.findings) {
    if (finding.severity != FindingSeverity::Danger) continue;
    steps.push_back(fmt::format("{} ({}): {}", capitalised(finding.rule), finding.subject,
                                finding.recommendation));
  }
  return steps;
}

// Heat at the highest neutral current that was read, and what no state exceeds.
std::string heat_words(const Job& job, const JointHeat& heat) {
  double read = 0;
  for (const Reading& reading : job.house.readings) {
    if (heat.place == "service" && reading.at == job.house.panels.front().name) {
      read = std::max(read, reading.neutral_amps.value_or(0));
    }
  }
  std::string text = fmt::format("If the {} ohms of excess in the neutral of {} sit in one joint, ",
                                 fitted_ohms(heat.ohms),
                                 heat.place == "service" ? "the service" : in_quotes(heat.place));
  if (read > 0) {
    text += fmt::format("the {} A that were read make {} W of heat there, and ", figure(read),
                        figure(heat.ohms * read * read));
  }
  return text + fmt::format(
                    "the most that this neutral carries while sound, {} A{}, would make "
                    "{} W: an upper bound, since a bad joint carries less.",
                    figure(heat.amps), heat.proven ? "" : " as far as was found",
                    figure(heat.watts));
}

// Volts read too high have other causes as well, so that they alone name no neutral.
std::string title_of(bool client, bool evidence, bool high) {
  if (client) return evidence || high ? "Do this first" : "If a shared wire fails, do this first";
  if (evidence) return "First: a neutral that may be failing";
  return high ? "First: volts above the supply's limits were read"
              : "First: what to do where a neutral fails";
}

}  // namespace

std::string ohms_beside_limit(const Job& job) {
  const auto measured = measured_neutral_excess(job.house, job.diagnosis);
  const std::optional<NeutralLimit>& limit = job.service.high;
  if (!measured || !limit || limit->ohms.si() <= 0) return "";
  const bool past = *measured > limit->ohms.si();
  return fmt::format(
      "The readings give {} ohms beyond the run of the service neutral, {} the {} ohms at which "
      "the "
      "first load, {}, can leave what it withstands{}.",
      fitted_ohms(*measured), past ? "past" : "short of", figure(limit->ohms.si()),
      in_quotes(job.house.loads[static_cast<std::size_t>(limit->load)].name),
      past ? ": loads can already be past their limits when the legs are loaded unevenly" : "");
}

std::optional<SafetyBlock> safety_block(Fill& fill) {
  const Job& job = fill.job;
  const bool client = is_for_client(fill);
  bool high = false;
  const std::vector<std::string> measured = volts_beyond(fill, high);
  const std::vector<std::string> neutrals = neutral_evidence(job);
  const bool evidence = !neutral_pattern(job).empty() || !neutrals.empty();
  const Exposure everywhere = exposure_at(job);
  if (!evidence && !high && !everywhere.any()) return std::nullopt;
  SafetyBlock block;
  block.title = title_of(client, evidence, high);
  block.found.push_back(of_readings(fill));
  if (client && high) {
    block.found.emplace_back(
        "More volts were measured than the supply is meant to give: electrical things here can be "
        "damaged while that lasts.");
  }
  if (!client) {
    block.found.insert(block.found.end(), measured.begin(), measured.end());
    block.found.insert(block.found.end(), neutrals.begin(), neutrals.end());
    if (std::string words = ohms_beside_limit(job); !words.empty() && !neutrals.empty()) {
      block.found.push_back(std::move(words));
    }
  }
  std::vector<std::string> calculated = of_audit(fill, exposure_at(job, place_of(fill)));
  if (calculated.empty()) calculated = of_audit(fill, everywhere);
  (client ? block.after : block.found)
      .insert((client ? block.after : block.found).end(), calculated.begin(), calculated.end());
  for (const CautionGroup& group : caution_groups()) {
    block.groups.emplace_back(group.title,
                              client ? actions_first(group.sentences) : group.sentences);
    if (client) break;  // the occupants' alone; the others are for the trade
  }
  return block;
}

Section summary_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"summary", "In short", {}, false};
  Bullets found;
  bool high = false;
  if (fill.options.reader == Reader::Contractor) {
    found.items.push_back(plan_words(job));
    if (job.demand && job.demand->spare_amps) {
      found.items.push_back(fmt::format(
          "The calculated load is {} A; {} A are {} of the service as described.",
          fixed(job.demand->compared_amps, 0), fixed(std::abs(*job.demand->spare_amps), 1),
          *job.demand->spare_amps < 0 ? "more than the least limit" : "left"));
    }
  }
  for (std::string& sentence : volts_beyond(fill, high)) found.items.push_back(std::move(sentence));
  found.items.push_back(capitalised(job.diagnosis.verdict) + ".");
  if (std::string words = ohms_beside_limit(job); !words.empty()) {
    found.items.push_back(std::move(words));
  }
  for (const JointHeat& heat : joint_heats(diagnosis_view(job))) {
    found.items.push_back(heat_words(job, heat));
  }
  for (std::string& line : audit_summary(job.house, job.tables, job.audit)) {
    found.items.push_back(std::move(line));
  }
  section.blocks.emplace_back(std::move(found));
  if (std::vector<std::string> steps = first_steps(job); !steps.empty()) {
    section.blocks.emplace_back(Paragraph{"What is advised first:"});
    section.blocks.emplace_back(Bullets{std::move(steps), true});
  }
  return section;
}

}  // namespace evenleg
