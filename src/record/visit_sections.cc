#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "evenleg/base/format.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

struct Labelled {
  const char* key;
  const char* label;
};

constexpr Labelled kHead[] = {{"job", "Job number"},  {"date", "Date of the visit"},
                              {"arrived", "Arrived"}, {"left", "Left"},
                              {"by", "By"},           {"licence", "Licence"},
                              {"client", "Client"},   {"utility", "Utility"},
                              {"weather", "Weather"}, {"access", "Access"}};
constexpr Labelled kComplaint[] = {
    {"complaint", "Complaint"},     {"extent", "How far it reaches"},
    {"light", "What lights do"},    {"when", "When"},
    {"follows", "It follows"},      {"lasting", "How long each time"},
    {"neighbours", "Neighbours"},   {"signs", "Further signs"},
    {"recent_work", "Recent work"}, {"damaged", "Damaged"}};
constexpr Labelled kCalls[] = {{"utility_contact", "Utility contact"},
                               {"utility_job", "Utility's job number"},
                               {"utility_arrived", "Crew arrived"},
                               {"utility_found", "What the crew found and did"}};
constexpr Labelled kHandOver[] = {{"work_done", "Work done"},
                                  {"tests", "Tests after the work"},
                                  {"authorised", "Authorised by the client"},
                                  {"declined", "Declined by the client"},
                                  {"left_as", "Left energised, partly, or off"},
                                  {"handed_over", "Handed over"}};
constexpr Labelled kAttachments[] = {{"photos", "Photos"}, {"attachments", "Attachments"}};
constexpr Labelled kEvent[] = {{"event", ""}, {"event_weather", ""}, {"insurer", ""}};
// The readings carry what these say.
constexpr const char* kOfTheForm[] = {"instrument",     "meter_input",           "accuracy_percent",
                                      "accuracy_volts", "amps_accuracy_percent", "places_read"};

// Those that are filled in; with `blanks`, the others as lines to be filled in by hand.
template <std::size_t N>
Fields fields_of(const House& house, const Labelled (&list)[N], bool blanks = false) {
  Fields fields;
  for (const Labelled& one : list) {
    std::string text = visit_field(house, one.key);
    if (!text.empty() || blanks) fields.rows.emplace_back(one.label, std::move(text));
  }
  return fields;
}

// Fields of [visit] that no list above names: nothing that was noted is left out.
Fields other_fields(const House& house) {
  std::set<std::string> known(std::begin(kOfTheForm), std::end(kOfTheForm));
  const auto add = [&known](const auto& list) {
    for (const Labelled& one : list) known.insert(one.key);
  };
  add(kHead);
  add(kComplaint);
  add(kCalls);
  add(kHandOver);
  add(kAttachments);
  add(kEvent);
  Fields fields;
  for (const auto& [key, text] : house.visit) {
    if (known.count(key) > 0) continue;
    std::string label = capitalised(key);
    std::replace(label.begin(), label.end(), '_', ' ');
    fields.rows.emplace_back(std::move(label), text);
  }
  return fields;
}

std::string service_words(const House& house) {
  if (!house.service) return "the source stands at the first panel";
  std::string text;
  if (house.service->breaker_a) text = exact(*house.service->breaker_a) + " A main";
  const Run& run = house.service->run;
  if (run.conductor) {
    text += (text.empty() ? "" : ", ") + *run.conductor;
    if (run.neutral) text += ", neutral " + *run.neutral;
  }
  if (run.length_ft) text += fmt::format(", {} ft", exact(*run.length_ft));
  if (run.length_m) text += fmt::format(", {} m", exact(*run.length_m));
  return text.empty() ? "described without a main" : text;
}

}  // namespace

Section job_section(Fill& fill) {
  const House& house = fill.job.house;
  const bool signs = fill.options.reader == Reader::Electrician;
  Section section{"job", "The job", {}, false};
  Fields fields{{{"House", house_words(house)}}};
  for (const auto& [key, text] : house.about) {
    if (key == "name") continue;
    std::string label = capitalised(key);
    std::replace(label.begin(), label.end(), '_', ' ');
    fields.rows.emplace_back(std::move(label), text);
  }
  for (auto& row : fields_of(house, kHead, signs).rows) fields.rows.push_back(std::move(row));
  fields.rows.emplace_back("Supply", house.supply.system);
  fields.rows.emplace_back("Service", service_words(house));
  std::vector<std::string> panels;
  for (const Panel& panel : house.panels) {
    panels.push_back(fmt::format("{} ({} spaces)", panel.name, panel.spaces));
  }
  fields.rows.emplace_back("Panels", listed(panels));
  fields.rows.emplace_back(
      "Described",
      fmt::format("{}, {}, {}", counted(house.circuits.size(), "circuit"),
                  counted(house.outlets.size(), "outlet"), counted(house.loads.size(), "load")));
  section.blocks.emplace_back(std::move(fields));
  if (Fields other = other_fields(house); !other.rows.empty()) {
    section.blocks.emplace_back(Paragraph{"Also noted:"});
    section.blocks.emplace_back(std::move(other));
  }
  return section;
}

Section complaint_section(Fill& fill) {
  Section section{"complaint", "The complaint, as reported by the occupant", {}, false};
  Fields fields = fields_of(fill.job.house, kComplaint);
  if (fields.rows.empty()) {
    section.blocks.emplace_back(Paragraph{"No complaint was recorded."});
  } else {
    section.blocks.emplace_back(std::move(fields));
  }
  return section;
}

Section calls_section(Fill& fill) {
  Section section{"calls", "Calls to the utility", {}, false};
  if (Fields fields = fields_of(fill.job.house, kCalls); !fields.rows.empty()) {
    section.blocks.emplace_back(std::move(fields));
  }
  Sheet log{"Call log",
            "Further calls, to be filled in by hand",
            {{"time", "", false},
             {"number dialled", "", false},
             {"name or ID", "", false},
             {"job number", "", false},
             {"crew arrived", "", false},
             {"found and done", "", false}},
            {},
            {},
            0};
  constexpr int kRows = 3;
  for (int row = 0; row < kRows; ++row) log.rows.emplace_back(log.columns.size());
  section.blocks.emplace_back(std::move(log));
  return section;
}

Section hand_over_section(Fill& fill) {
  Section section{"hand-over", "Hand-over", {}, false};
  section.blocks.emplace_back(fields_of(fill.job.house, kHandOver, true));
  return section;
}

Section signature_section(Fill& fill) {
  const House& house = fill.job.house;
  Section section{"signature", "Signatures", {}, false};
  section.blocks.emplace_back(Fields{{{"Name", visit_field(house, "by")},
                                      {"Licence", visit_field(house, "licence")},
                                      {"Signature", ""},
                                      {"Date", ""},
                                      {"Client", visit_field(house, "client")},
                                      {"Client's signature", ""},
                                      {"Date, client", ""}}});
  return section;
}

Section attachments_section(Fill& fill) {
  Section section{"attachments", "Attachments", {}, false};
  Fields fields = fields_of(fill.job.house, kAttachments);
  if (fields.rows.empty()) fields.rows.emplace_back("Photos and other files", "");
  section.blocks.emplace_back(std::move(fields));
  return section;
}

}  // namespace evenleg
