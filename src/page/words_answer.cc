#include <nlohmann/json.hpp>

#include "evenleg/edit/edit.h"
#include "evenleg/house/fields.h"
#include "evenleg/house/wiring.h"
#include "evenleg/record/record.h"
#include "evenleg/report/cautions.h"
#include "src/page/house_answer.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

std::string_view name_of(FieldType type) {
  switch (type) {
    case FieldType::Text:
      return "text";
    case FieldType::Flag:
      return "flag";
    case FieldType::Whole:
      return "whole";
    case FieldType::Number:
      return "number";
    case FieldType::Numbers:
      return "numbers";
    case FieldType::WholeList:
      return "whole_list";
    case FieldType::TextList:
      return "text_list";
    case FieldType::Shares:
      return "shares";
    case FieldType::Spectrum:
      return "spectrum";
    case FieldType::Time:
      return "time";
  }
  return "";
}

template <class Record>
Json keys_json() {
  Json list = Json::array();
  for (const Field<Record>& field : fields_of<Record>()) {
    list.push_back({{"key", field.key},
                    {"type", name_of(field.type)},
                    {"needed", field.needed},
                    {"expected", expected(field)},
                    {"choices", field.choices}});
  }
  return list;
}

Json all_keys_json() {
  return {{"panel", keys_json<Panel>()},         {"circuit", keys_json<Circuit>()},
          {"multiwire", keys_json<Multiwire>()}, {"outlet", keys_json<Outlet>()},
          {"load", keys_json<Load>()},           {"scenario", keys_json<Scenario>()},
          {"reading", keys_json<Reading>()},     {"finding", keys_json<SiteFinding>()},
          {"supply", keys_json<Supply>()},       {"service", keys_json<Service>()},
          {"dwelling", keys_json<Dwelling>()},   {"transformer", keys_json<Transformer>()}};
}

Json load_kinds_json(const Tables& tables) {
  Json list = Json::array();
  for (const LoadKind& kind : tables.load_kinds) {
    const auto& absolute = kind.withstands_volts;
    list.push_back({{"kind", kind.name},
                    {"description", kind.description},
                    {"law", kind.law.text},
                    {"power_factor", kind.power_factor},
                    {"withstands", kind.withstands},
                    {"withstands_volts", absolute ? Json(*absolute) : Json(nullptr)}});
  }
  return list;
}

Json systems_json(const Tables& tables) {
  Json list = Json::array();
  for (const SupplySystem& system : tables.systems) {
    Json legs = Json::array();
    for (const Leg& leg : system.legs) legs.push_back(leg.name);
    const bool one = system.legs.size() < 2;
    list.push_back({{"system", system.name},
                    {"nominal_volts", system.nominal_volts},
                    {"leg_to_leg_volts", one ? Json(nullptr) : Json(nominal_volts(system, 0, 1))},
                    {"legs", legs}});
  }
  return list;
}

Json cautions_json() {
  Json groups = Json::array();
  for (const CautionGroup& group : caution_groups()) {
    groups.push_back({{"title", group.title}, {"sentences", group.sentences}});
  }
  return {{"standing", standing_caution()}, {"groups", groups}};
}

}  // namespace

Json words_answer(const OpenHouse& open) {
  const Tables& tables = open.tables();
  Json conductors = Json::array();
  for (const Conductor& conductor : tables.conductors) conductors.push_back(conductor.name);
  Json readers = Json::array();
  for (const Reader reader : {Reader::Electrician, Reader::Inspector, Reader::Contractor,
                              Reader::Client, Reader::Event}) {
    readers.push_back(evenleg::name_of(reader));
  }
  return {{"format", 1},
          {"keys", all_keys_json()},
          {"load_kinds", load_kinds_json(tables)},
          {"conductors", conductors},
          {"systems", systems_json(tables)},
          {"readers", readers},
          {"cautions", cautions_json()}};
}

}  // namespace evenleg
