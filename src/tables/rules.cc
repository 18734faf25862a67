#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "src/tables/readers.h"

namespace evenleg {
namespace {

// Every rule that the audit applies; a file must hold each once.
constexpr std::string_view kRules[] = {
    "same-leg multiwire",
    "multiwire from two panels",
    "no common disconnect",
    "multiwire breakers apart",
    "line-to-line load on a multiwire",
    "protection on one side of a shared neutral",
    "neutral through devices",
    "multi-pole circuit shares a neutral",
    "leg differs from the space",
    "neutral beyond its ampacity",
    "neutral smaller than its breaker",
    "breaker beyond the conductor",
    "load beyond the breaker",
    "load on another voltage",
    "voltage drop",
    "load above what it withstands",
    "leg volts beyond the limits",
    "utilization volts beyond the limits",
    "legs of a wye do not cancel",
    "no neutral-loss device",
    "legs unbalanced",
    "earth return may hide an open neutral",
    "earth return is no neutral",
    "panel hangs on one feeder neutral",
    "surge protector beyond an open neutral",
    "worst open neutral",
    "as found is not credible",
};

constexpr std::string_view kComputed = "computed";  // nothing was read

bool is_rule(std::string_view name) {
  return std::find(std::begin(kRules), std::end(kRules), name) != std::end(kRules);
}

WiringRule read_rule(Row& row) {
  WiringRule rule;
  rule.name = row.text("name");
  rule.jurisdiction = row.text("jurisdiction");
  rule.title = row.text("title");
  for (Row& part : row.rows("sections")) {
    RuleSection section;
    section.section = part.text("section");
    section.editions = part.text_if("editions").value_or("");
    part.end();
    rule.sections.push_back(std::move(section));
  }
  rule.read = row.text("read");
  row.end();
  return rule;
}

bool holds(const Tables& tables, std::string_view name) {
  return find_rule(tables, name) != nullptr;
}

}  // namespace

void read_rules(Row& root, Tables& tables) {
  (void)root.citation("source");  // must be there; each rule carries its own
  for (Row& row : root.rows("rule")) {
    WiringRule rule = read_rule(row);
    if (!rule.name.empty() && !is_rule(rule.name)) {
      row.refuse("name", fmt::format("no wiring rule is called \"{}\"", rule.name),
                 "correct its name or remove the rule");
    } else if (!rule.name.empty() && holds(tables, rule.name)) {
      row.refuse("name", fmt::format("the rule \"{}\" is there twice", rule.name), "remove one");
    }
    tables.wiring_rules.push_back(std::move(rule));
  }
  std::vector<std::string> missing;
  for (std::string_view name : kRules) {
    if (!holds(tables, name)) missing.push_back("\"" + std::string(name) + "\"");
  }
  if (!missing.empty() && root.has("rule")) {
    root.refuse("rule", fmt::format("no entry for {}", fmt::join(missing, ", ")), "add it");
  }
  root.end();
}

const WiringRule* find_rule(const Tables& tables, std::string_view name) {
  const auto found = std::find_if(tables.wiring_rules.begin(), tables.wiring_rules.end(),
                                  [&](const WiringRule& rule) { return rule.name == name; });
  return found == tables.wiring_rules.end() ? nullptr : &*found;
}

std::string source_text(const WiringRule& rule) {
  std::vector<std::string> parts;
  for (const RuleSection& part : rule.sections) {
    parts.push_back(part.editions.empty() ? part.section
                                          : fmt::format("{} ({})", part.section, part.editions));
  }
  const std::string text = fmt::format("{}: {}", rule.title, fmt::join(parts, "; "));
  return rule.read == kComputed ? text : text + "; read: " + rule.read;
}

}  // namespace evenleg
