#include "src/tables/data_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenleg {

struct DataFile::Document {
  struct Place {
    toml::source_position at;
    Fault fault;
  };

  std::string where;
  std::optional<toml::table> table;
  std::vector<Place> faults;

  void refuse(const toml::source_region& region, std::string what, std::string remedy) {
    const toml::source_position at = region.begin;
    faults.push_back(
        {at,
         {fmt::format("{}:{}:{}", where, at.line, at.column), std::move(what), std::move(remedy)}});
  }
};

struct Row::State {
  DataFile::Document* document;
  const toml::table* table;  // nullptr: its absence was reported, everything in it reads as empty
  std::vector<std::string> asked;

  State(DataFile::Document* in, const toml::table* of) : document(in), table(of) {
    if (table != nullptr) asked.reserve(table->size());
  }

  const toml::node* find(std::string_view key) {
    asked.emplace_back(key);
    return table == nullptr ? nullptr : table->get(key);
  }

  // The node of a key that must be there.
  const toml::node* need(std::string_view key) {
    const toml::node* node = find(key);
    if (node == nullptr && table != nullptr) {
      document->refuse(table->source(), fmt::format("\"{}\" is missing", key), "add it");
    }
    return node;
  }

  void wrong_type(const toml::node& node, std::string_view key, std::string_view wanted) {
    document->refuse(node.source(), fmt::format("\"{}\" is not {}", key, wanted),
                     fmt::format("write {}", wanted));
  }

  double number_in(const toml::node& node, std::string_view key, Allowed allowed) {
    const std::optional<double> value = node.value<double>();
    if (!node.is_number() || !value || !std::isfinite(*value)) {
      wrong_type(node, key, "a number");
      return 0;
    }
    const bool low = (allowed == Allowed::Positive && *value <= 0) ||
                     (allowed == Allowed::NotNegative && *value < 0);
    if (low) {
      const char* wanted = allowed == Allowed::Positive ? "above 0" : "0 or more";
      document->refuse(node.source(), fmt::format("\"{}\" is {}", key, *value),
                       fmt::format("write a number {}", wanted));
      return 0;
    }
    return *value;
  }

  std::string text_in(const toml::node& node, std::string_view key) {
    const auto* text = node.as_string();
    if (text != nullptr && !text->get().empty()) return text->get();
    if (text == nullptr) {
      wrong_type(node, key, "a text in quotes");
    } else {
      document->refuse(node.source(), fmt::format("\"{}\" is empty", key), "fill it in");
    }
    return {};
  }
};

Row::Row(std::unique_ptr<State> state) : state_(std::move(state)) {}
Row::Row(Row&& other) noexcept = default;
Row::~Row() = default;

std::string Row::text(std::string_view key) {
  const toml::node* node = state_->need(key);
  return node == nullptr ? std::string() : state_->text_in(*node, key);
}

std::optional<std::string> Row::text_if(std::string_view key) {
  const toml::node* node = state_->find(key);
  if (node == nullptr) return std::nullopt;
  return state_->text_in(*node, key);
}

double Row::number(std::string_view key, Allowed allowed) {
  const toml::node* node = state_->need(key);
  return node == nullptr ? 0 : state_->number_in(*node, key, allowed);
}

std::optional<double> Row::number_if(std::string_view key, Allowed allowed) {
  const toml::node* node = state_->find(key);
  if (node == nullptr) return std::nullopt;
  return state_->number_in(*node, key, allowed);
}

std::vector<double> Row::numbers_if(std::string_view key, std::size_t count) {
  const toml::node* node = state_->find(key);
  if (node == nullptr) return {};
  const toml::array* array = node->as_array();
  if (array == nullptr || array->size() != count) {
    state_->wrong_type(*node, key, fmt::format("a list of {} numbers", count));
    return {};
  }
  std::vector<double> values;
  for (const toml::node& item : *array) {
    values.push_back(state_->number_in(item, key, Allowed::Positive));
  }
  return values;
}

std::vector<std::string> Row::texts_if(std::string_view key) {
  const toml::node* node = state_->find(key);
  if (node == nullptr) return {};
  std::vector<std::string> texts;
  const toml::array* array = node->as_array();
  bool right = array != nullptr;
  for (std::size_t i = 0; right && i < array->size(); ++i) {
    const auto* text = array->get(i)->as_string();
    right = text != nullptr && !text->get().empty();
    if (right) texts.push_back(text->get());
  }
  if (!right) state_->wrong_type(*node, key, "a list of texts");
  return right ? texts : std::vector<std::string>{};
}

bool Row::flag(std::string_view key) {
  const toml::node* node = state_->need(key);
  if (node == nullptr) return false;
  const auto* value = node->as_boolean();
  if (value == nullptr) state_->wrong_type(*node, key, "true or false");
  return value != nullptr && value->get();
}

Row Row::table(std::string_view key) {
  const toml::node* node = state_->need(key);
  const toml::table* table = node == nullptr ? nullptr : node->as_table();
  if (node != nullptr && table == nullptr) state_->wrong_type(*node, key, "a table");
  return Row(std::make_unique<State>(State(state_->document, table)));
}

std::vector<Row> Row::rows(std::string_view key) {
  std::vector<Row> rows;
  const toml::node* node = state_->need(key);
  if (node == nullptr) return rows;
  const toml::array* array = node->as_array();
  const auto is_table = [](const toml::node& item) { return item.is_table(); };
  if (array == nullptr || array->empty() || !std::all_of(array->begin(), array->end(), is_table)) {
    state_->wrong_type(*node, key, "a list of tables");
    return rows;
  }
  for (const toml::node& item : *array) {
    rows.push_back(Row(std::make_unique<State>(State(state_->document, item.as_table()))));
  }
  return rows;
}

Citation Row::citation(std::string_view key) {
  Row source = table(key);
  Citation citation{source.text("title"), source.text("edition"), source.text("section"),
                    source.text("precision"), source.text("read")};
  source.end();
  return citation;
}

bool Row::has(std::string_view key) const {
  return state_->table != nullptr && state_->table->contains(key);
}

std::vector<std::string> Row::table_keys() const {
  std::vector<std::string> keys;
  if (state_->table == nullptr) return keys;
  for (const auto& [key, node] : *state_->table) {
    if (node.is_table()) keys.emplace_back(key.str());
  }
  return keys;
}

void Row::refuse(std::string_view key, std::string what, std::string remedy) {
  if (state_->table == nullptr) return;
  const toml::node* node = state_->table->get(key);
  state_->document->refuse((node == nullptr ? state_->table : node)->source(), std::move(what),
                           std::move(remedy));
}

void Row::end() {
  if (state_->table == nullptr) return;
  const auto& asked = state_->asked;
  for (const auto& [key, node] : *state_->table) {
    if (std::find(asked.begin(), asked.end(), key.str()) != asked.end()) continue;
    state_->document->refuse(key.source(), fmt::format("unknown key \"{}\"", key.str()),
                             "remove it or correct its name");
  }
}

DataFile::DataFile(std::string where, std::string_view text)
    : document_(std::make_unique<Document>(Document{std::move(where), std::nullopt, {}})) {
  try {
    document_->table = toml::parse(text);
  } catch (const toml::parse_error& error) {
    document_->refuse(error.source(), std::string(error.description()), "correct the TOML");
  }
}

DataFile::~DataFile() = default;

std::optional<Row> DataFile::root() {
  if (!document_->table) return std::nullopt;
  return Row(std::make_unique<Row::State>(Row::State(document_.get(), &*document_->table)));
}

std::vector<Fault> DataFile::faults() const {
  std::vector<Document::Place> places = document_->faults;
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  std::vector<Fault> faults;
  for (Document::Place& place : places) faults.push_back(std::move(place.fault));
  return faults;
}

}  // namespace evenleg
