#include "evenleg/tables/demand_rules.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "evenleg/house/fields.h"
#include "src/tables/conductor_names.h"
#include "src/tables/demand_category.h"
#include "src/tables/readers.h"

namespace evenleg {
namespace {

// What a rule must have for the calculation to use it; `parts` of t(iers), b(ands), (ter)m(s),
// c(ounts).
struct RuleShape {
  std::string_view method;
  std::string_view name;
  std::vector<std::string_view> figures;
  std::string_view parts;
};

const std::vector<RuleShape>& shapes() {
  static const std::vector<RuleShape> kShapes = {
      {"standard", "general lighting", {"va_per_ft2", "va_per_m2"}, ""},
      {"standard", "small appliance", {"va_each", "least"}, ""},
      {"standard", "laundry", {"va_each", "least"}, ""},
      {"standard", "lighting demand", {}, "t"},
      {"standard", "fastened appliances", {"percent", "at_least", "least_va"}, "c"},
      {"standard", "dryer", {"least_va"}, "b"},
      {"standard",
       "cooking",
       {"least_kw", "column_a_below_kw", "column_b_to_kw", "column_c_to_kw", "most_kw",
        "percent_per_kw"},
       "b"},
      {"standard", "EV charger", {"least_va"}, ""},
      {"standard", "motors", {"percent_of_largest"}, "c"},
      {"standard", "heating or cooling", {}, "m"},
      {"optional", "general lighting", {"va_per_ft2", "va_per_m2"}, ""},
      {"optional", "small appliance", {"va_each", "least"}, ""},
      {"optional", "laundry", {"va_each", "least"}, ""},
      {"optional", "appliances", {}, "c"},
      {"optional", "EV charger", {"least_va"}, ""},
      {"optional", "general load", {}, "t"},
      {"optional", "heating or cooling", {}, "m"},
      {"existing", "general lighting", {"va_per_ft2", "va_per_m2"}, ""},
      {"existing", "small appliance", {"va_each", "least"}, ""},
      {"existing", "laundry", {"va_each", "least"}, ""},
      {"existing", "appliances", {}, "c"},
      {"existing", "EV charger", {"least_va"}, ""},
      {"existing", "general load", {}, "t"},
      {"existing", "present heating or cooling", {}, "m"},
      {"existing", "heating or cooling", {}, "m"},
      {"recorded", "recorded demand", {"percent"}, ""},
      {"recorded", "EV charger", {"least_va"}, ""},
      {"canadian", "basic load", {"first_m2", "first_watts", "each_m2", "each_watts"}, ""},
      {"canadian", "space heating", {"full_watts", "percent_of_rest"}, ""},
      {"canadian", "cooling", {}, ""},
      {"canadian", "range", {"watts", "up_to_watts", "percent_of_rest"}, ""},
      {"canadian", "full loads", {}, "c"},
      {"canadian", "EV charger", {"least_va"}, ""},
      {"canadian", "other loads", {"above_watts", "percent", "without_range_full_watts"}, "c"},
      {"canadian", "least service", {"amps", "small_amps", "small_below_m2"}, ""},
      {"neutral", "cooking and dryers", {"percent"}, ""},
      {"neutral", "large neutral", {"percent", "above_amps"}, ""},
      {"neutral", "unbalance", {}, ""},
      {"service", "least service", {"amps"}, ""},
      {"service", "standard ratings", {}, "b"},
      {"service", "rounding", {}, ""},
  };
  return kShapes;
}

bool has_part(const RuleShape& shape, char part) {
  return shape.parts.find(part) != std::string_view::npos;
}

std::vector<std::string> categories_in(Row& row) {
  std::vector<std::string> categories;
  const std::string text = row.text("counts");
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(", ", at), text.size());
    const std::string name = text.substr(at, end - at);
    if (!demand_category(name)) {
      row.refuse("counts", fmt::format("\"{}\" is not a category of load", name),
                 fmt::format("write some of {}", fmt::join(demand_categories(), ", ")));
    }
    categories.push_back(name);
    at = end + 2;
  }
  return categories;
}

std::vector<DemandTier> tiers_in(Row& rule) {
  std::vector<DemandTier> tiers;
  double from = 0;
  for (Row& row : rule.rows("tiers")) {
    DemandTier tier{row.number_if("up_to", Allowed::Positive),
                    row.number("percent", Allowed::NotNegative)};
    row.end();
    if (tier.up_to && *tier.up_to <= from) {
      row.refuse("up_to", "the tiers do not rise", "order them from small to large");
    }
    from = tier.up_to.value_or(from);
    tiers.push_back(tier);
  }
  if (!tiers.empty() && tiers.back().up_to) {
    rule.refuse("tiers", "the last tier ends, so that what is above it has no percentage",
                "leave `up_to` out of it");
  }
  return tiers;
}

std::vector<DemandBand> bands_in(Row& rule) {
  constexpr std::string_view kFigures[] = {"percent", "less_each", "over",     "a",
                                           "b",       "c_kw",      "c_kw_each"};
  std::vector<DemandBand> bands;
  for (Row& row : rule.rows("bands")) {
    DemandBand band;
    band.from = static_cast<int>(row.number("from", Allowed::Positive));
    if (const auto to = row.number_if("to", Allowed::Positive)) band.to = static_cast<int>(*to);
    for (std::string_view key : kFigures) {
      if (const auto value = row.number_if(key, Allowed::NotNegative)) {
        band.figures.emplace(key, *value);
      }
    }
    row.end();
    const int before = bands.empty() ? 0 : bands.back().to.value_or(bands.back().from);
    if (band.from <= before || (band.to && *band.to < band.from)) {
      row.refuse("from", "the rows do not rise", "order them from few to many");
    }
    bands.push_back(std::move(band));
  }
  return bands;
}

std::vector<DemandTerm> terms_in(Row& rule) {
  std::vector<DemandTerm> terms;
  for (Row& row : rule.rows("terms")) {
    DemandTerm term;
    const std::string season = row.text("season");
    term.cooling = season == "cooling";
    if (!term.cooling && season != "heating") {
      row.refuse("season", fmt::format("\"{}\" is no season", season),
                 "write \"heating\" or \"cooling\"");
    }
    term.category = demand_category_in(row, "category");
    term.percent = row.number("percent", Allowed::NotNegative);
    if (const auto most = row.number_if("fewer_than", Allowed::Positive)) {
      term.fewer_than = static_cast<int>(*most);
    }
    if (const auto least = row.number_if("at_least", Allowed::Positive)) {
      term.at_least = static_cast<int>(*least);
    }
    row.end();
    terms.push_back(std::move(term));
  }
  return terms;
}

const RuleShape* shape_of(std::string_view method, std::string_view name) {
  for (const RuleShape& shape : shapes()) {
    if (shape.method == method && shape.name == name) return &shape;
  }
  return nullptr;
}

DemandRule read_rule(Row& row, const DemandMethod& method) {
  DemandRule rule;
  rule.name = row.text("name");
  rule.first = static_cast<int>(row.number("first", Allowed::Positive));
  rule.last = static_cast<int>(row.number("last", Allowed::Positive));
  rule.section = row.text("section");
  rule.read = row.text("read");
  const RuleShape* shape = shape_of(method.name, rule.name);
  if (shape == nullptr) {
    row.refuse("name", fmt::format("\"{}\" is no rule of the method", rule.name),
               "correct its name or remove the rule");
    return rule;
  }
  for (std::string_view key : shape->figures) {
    rule.figures.emplace(key, row.number(key, Allowed::NotNegative));
  }
  if (has_part(*shape, 'c')) rule.counts = categories_in(row);
  if (has_part(*shape, 't')) rule.tiers = tiers_in(row);
  if (has_part(*shape, 'b')) rule.bands = bands_in(row);
  if (has_part(*shape, 'm')) rule.terms = terms_in(row);
  row.end();
  return rule;
}

// Each rule of the method once in each of its editions.
void check_editions(Row& root, const DemandMethod& method) {
  for (const RuleShape& shape : shapes()) {
    if (shape.method != method.name) continue;
    for (const int edition : method.editions) {
      const auto count =
          std::count_if(method.rules.begin(), method.rules.end(), [&](const DemandRule& rule) {
            return rule.name == shape.name && rule.first <= edition && edition <= rule.last;
          });
      if (count == 1) continue;
      root.refuse("rule",
                  fmt::format("the rule \"{}\" is there {} in edition {}", shape.name,
                              count == 0 ? "not once" : "more than once", edition),
                  "let its entries cover each edition once");
    }
  }
}

}  // namespace

std::string demand_category_in(Row& row, std::string_view key) {
  const std::string name = row.text(key);
  const auto& known = demand_categories();
  if (!name.empty() && std::find(known.begin(), known.end(), name) == known.end()) {
    row.refuse(key, fmt::format("\"{}\" is not a category of load", name),
               fmt::format("write one of {}", fmt::join(known, ", ")));
  }
  return name;
}

void read_demand_method(Row& root, Tables& tables) {
  DemandMethod method;
  method.source = root.citation("source");
  Row head = root.table("method");
  method.name = head.text("name");
  method.text = head.text("text");
  method.code = head.text("code");
  method.unit = head.text("unit");
  method.default_edition = static_cast<int>(head.number("default_edition", Allowed::Positive));
  for (Row& row : head.rows("editions")) {
    method.editions.push_back(static_cast<int>(row.number("year", Allowed::Positive)));
    row.end();
  }
  const auto& editions = method.editions;
  if (std::find(editions.begin(), editions.end(), method.default_edition) == editions.end()) {
    head.refuse("default_edition", "it is none of the editions", "name one of them");
  }
  if (find_demand_method(tables, method.name) != nullptr) {
    head.refuse("name", fmt::format("two methods are named \"{}\"", method.name), "rename one");
  }
  head.end();
  for (Row& row : root.rows("rule")) method.rules.push_back(read_rule(row, method));
  check_editions(root, method);
  root.end();
  tables.demand_methods.push_back(std::move(method));
}

double DemandRule::figure(std::string_view key) const {
  const auto found = figures.find(std::string(key));
  assert(found != figures.end());
  return found == figures.end() ? 0 : found->second;
}

bool DemandRule::does_count(std::string_view category) const {
  return std::find(counts.begin(), counts.end(), category) != counts.end();
}

const DemandBand* DemandRule::band(int number) const {
  const DemandBand* row = nullptr;
  for (const DemandBand& each : bands) {
    if (each.from <= number) row = &each;
  }
  return row;
}

const DemandMethod* find_demand_method(const Tables& tables, std::string_view name) {
  for (const DemandMethod& method : tables.demand_methods) {
    if (method.name == name) return &method;
  }
  return nullptr;
}

const DemandRule& demand_rule(const DemandMethod& method, std::string_view name, int edition) {
  const auto found =
      std::find_if(method.rules.begin(), method.rules.end(), [&](const DemandRule& rule) {
        return rule.name == name && rule.first <= edition && edition <= rule.last;
      });
  assert(found != method.rules.end());
  return *found;
}

const std::vector<std::string>& demand_categories() {
  static const std::vector<std::string> kCategories = [] {
    for (const Field<Load>& field : fields_of<Load>()) {
      if (field.key == "demand") return field.choices;
    }
    return std::vector<std::string>();
  }();
  return kCategories;
}

std::optional<std::string> demand_category(std::string_view name) {
  for (const std::string& known : demand_categories()) {
    if (std::equal(known.begin(), known.end(), name.begin(), name.end(),
                   [](char a, char b) { return lower(a) == lower(b); })) {
      return known;
    }
  }
  return std::nullopt;
}

}  // namespace evenleg
