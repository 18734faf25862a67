#include <nlohmann/json.hpp>

#include "evenleg/record/record.h"
#include "src/record/blocks.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json fields_json(const std::vector<std::pair<std::string, std::string>>& rows) {
  Json list = Json::array();
  for (const auto& [label, value] : rows) list.push_back({{"field", label}, {"text", value}});
  return list;
}

// A number as shown and unrounded; words as they are.
Json cell_json(const Cell& cell) {
  if (!cell.value) return cell.text;
  return {{"text", cell.text}, {"value", *cell.value}};
}

Json sheet_json(const Sheet& sheet) {
  Json columns = Json::array();
  for (const SheetColumn& column : sheet.columns) {
    columns.push_back({{"heading", column.heading}, {"unit", column.unit}});
  }
  Json rows = Json::array();
  for (const auto& row : sheet.rows) {
    Json cells = Json::array();
    for (const Cell& cell : row) cells.push_back(cell_json(cell));
    rows.push_back(std::move(cells));
  }
  return {{"table", sheet.name},
          {"title", sheet.title},
          {"columns", std::move(columns)},
          {"rows", std::move(rows)},
          {"notes", sheet.notes}};
}

Json block_json(const Block& block) {
  return std::visit(Overloaded{[](const Paragraph& one) {
                                 return Json{{"paragraph", one.text}};
                               },
                               [](const Bullets& one) {
                                 return Json{{"list", one.items}, {"numbered", one.numbered}};
                               },
                               [](const Fields& one) {
                                 return Json{{"fields", fields_json(one.rows)}};
                               },
                               [](const Statement& one) {
                                 return Json{{"statement", one.title},
                                             {"weight", one.weight},
                                             {"parts", fields_json(one.parts)}};
                               },
                               [](const Sheet& one) { return sheet_json(one); },
                               [](const Drawing& one) {
                                 return Json{{"drawing", one.name},
                                             {"title", one.title},
                                             {"description", one.description},
                                             {"svg", one.svg}};
                               }},
                    block);
}

Json safety_json(const std::optional<SafetyBlock>& safety) {
  if (!safety) return nullptr;
  Json groups = Json::array();
  for (const auto& [title, sentences] : safety->groups) {
    groups.push_back({{"title", title}, {"sentences", sentences}});
  }
  return {{"title", safety->title},
          {"found", safety->found},
          {"groups", std::move(groups)},
          {"after", safety->after}};
}

}  // namespace

std::string record_json(const Record& record) {
  constexpr int kFormat = 1;
  Json sections = Json::array();
  for (const Section& section : record.sections) {
    Json blocks = Json::array();
    for (const Block& block : section.blocks) blocks.push_back(block_json(block));
    sections.push_back(
        {{"section", section.id}, {"title", section.title}, {"blocks", std::move(blocks)}});
  }
  const Json object{{"format", kFormat},
                    {"house", record.house},
                    {"record", record.title},
                    {"for", record.reader},
                    {"date", record.date},
                    {"safety", safety_json(record.safety)},
                    {"sections", std::move(sections)},
                    {"caution", record.foot},
                    {"origin", record.origin}};
  constexpr int kIndent = 2;
  return object.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace evenleg
