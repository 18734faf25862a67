#include "evenleg/report/diagnose_json.h"

#include "evenleg/report/cautions.h"
#include "src/report/audit_json_parts.h"
#include "src/report/diagnose_sections.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json conductor_json(const ConductorEstimate& one) {
  return {{"conductor", one.conductor},
          {"ohms", number(one.ohms)},
          {"standard_error", number(one.standard_error)}};
}

Json conductor_in_full(const ConductorEstimate& one) {
  Json json = conductor_json(one);
  json["expected_ohms"] = number(one.expected_ohms);
  json["transformer_ohms"] = number(one.transformer_ohms);
  json["excess_ohms"] = number(one.excess_ohms);
  json["stands_out"] = one.stands_out;
  return json;
}

Json name_or_null(const std::string& name) { return name.empty() ? Json(nullptr) : Json(name); }

Json sections_json(const Estimation& all) {
  Json sections = Json::array();
  for (const SectionEstimate& section : all.sections) {
    Json conductors = Json::array();
    for (const ConductorEstimate& one : section.conductors) {
      conductors.push_back(conductor_in_full(one));
    }
    sections.push_back({{"from", name_or_null(section.from)},
                        {"to", section.to},
                        {"circuit", name_or_null(section.cable)},
                        {"conductors", conductors}});
  }
  return sections;
}

// Upstream of the first panel, or of the place that was read most.
void add_main(const DiagnosisView& view, Json& json) {
  Json conductors = Json::array();
  Json expected = Json::object();
  const SectionEstimate* main = view.diagnosis.estimation.main_section(view.house);
  if (main != nullptr) {
    for (const ConductorEstimate& one : main->conductors) {
      conductors.push_back(conductor_json(one));
      if (one.expected_ohms) expected[one.conductor] = number(*one.expected_ohms);
    }
  }
  json["place"] = main == nullptr ? Json(nullptr) : Json(main->to);
  json["conductors"] = conductors;
  json["expected_ohms"] = expected;
}

Json missing_json(const Estimation& all) {
  Json missing = Json::array();
  for (const MissingReadings& one : all.missing) {
    missing.push_back({{"place", one.place}, {"conductors", one.conductors}, {"take", one.take}});
  }
  return missing;
}

Json patterns_json(const Diagnosis& diagnosis) {
  Json patterns = Json::array();
  for (const PatternMatch& one : diagnosis.patterns) {
    patterns.push_back({{"pattern", one.name},
                        {"title", one.title},
                        {"score", number(one.score)},
                        {"for", one.for_it},
                        {"against", one.against_it},
                        {"source", one.source}});
  }
  return patterns;
}

Json next_json(const Diagnosis& diagnosis) {
  if (!diagnosis.next) return nullptr;
  return {{"take", diagnosis.next->take},
          {"shows",
           {{{"pattern", diagnosis.patterns[0].name}, {"sees", diagnosis.next->first_shows}},
            {{"pattern", diagnosis.patterns[1].name}, {"sees", diagnosis.next->second_shows}}}}};
}

Json joints_json(const DiagnosisView& view) {
  Json joints = Json::array();
  for (const JointReading& one : view.diagnosis.joints) {
    joints.push_back({{"at", view.house.readings[static_cast<std::size_t>(one.reading)].at},
                      {"volts", number(one.volts)},
                      {"amps", number(one.amps)},
                      {"ohms", number(one.ohms)},
                      {"watts", number(one.watts)}});
  }
  return joints;
}

Json if_opened_json(const DiagnosisView& view) {
  Json rows = Json::array();
  for (const JointHeat& heat : joint_heats(view)) {
    rows.push_back({{"place", heat.place},
                    {"excess_ohms", number(heat.ohms)},
                    {"highest_amps", number(heat.amps)},
                    {"watts", number(heat.watts)},
                    {"proven", heat.proven},
                    {"loads_past_their_limit", heat.loads_past},
                    {"worst", name_or_null(heat.worst)}});
  }
  return rows;
}

}  // namespace

Json diagnose_json(const DiagnosisView& view) {
  const Diagnosis& diagnosis = view.diagnosis;
  const Estimation& all = diagnosis.estimation;
  Json json{{"format", kFormat},
            {"house", name_of(view.house)},
            {"model", all.model},
            {"source_volts", number(all.source_volts)},
            {"source_volts_standard_error", number(all.source_standard_error)}};
  add_main(view, json);
  json["verdict"] = diagnosis.verdict;
  json["readings_used"] = all.readings_used;
  json["values_used"] = all.values_used;
  json["residual_volts"] = number(all.residual_volts);
  json["accuracy_stated"] = all.accuracy_stated;
  json["sections"] = sections_json(all);
  json["missing"] = missing_json(all);
  json["patterns"] = patterns_json(diagnosis);
  json["next_reading"] = next_json(diagnosis);
  json["joints"] = joints_json(view);
  json["if_it_opened"] = if_opened_json(view);
  json["beside_the_neutral"] = diagnosis.beside;
  json["distrust"] = diagnosis.traps;
  json["log"] = view.log == nullptr ? Json(nullptr) : log_json(*view.log);
  json["caution"] = standing_caution();
  return json;
}

}  // namespace evenleg
