#include "src/cli/version_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <vector>

#include "evenleg/balance/demand.h"
#include "evenleg/tables/tables.h"
#include "src/cli/build_info.h"

namespace evenleg {
namespace {

// "NFPA 70" of "NFPA 70, National Electrical Code".
std::string short_title(const std::string& title) { return title.substr(0, title.find(',')); }

// Lines of one kind of table, each once, in the order in which the tables give them.
class Editions {
 public:
  explicit Editions(std::string heading) : text_("  " + std::move(heading) + "\n") {}

  void add(const std::string& title, const std::string& edition) {
    if (title.empty()) return;
    std::string one = fmt::format("    {}: {}\n", title, edition);
    if (std::find(seen_.begin(), seen_.end(), one) != seen_.end()) return;
    text_ += one;
    seen_.push_back(std::move(one));
  }
  void add(const Citation& source) { add(short_title(source.title), source.edition); }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
  std::vector<std::string> seen_;
};

std::string service_calculations(const Tables& tables) {
  Editions editions("service calculations");
  for (const std::string& name : demand_methods(tables)) {
    const DemandMethod& method = *find_demand_method(tables, name);
    editions.add(fmt::format("{}, {}", short_title(method.code), name),
                 fmt::format("{} to {}, {} when none is named", method.editions.front(),
                             method.editions.back(), method.default_edition));
  }
  return editions.text();
}

std::string conductors(const Tables& tables) {
  Editions editions("conductors");
  for (const Conductor& one : tables.conductors) {
    for (const Citation* source :
         {&one.resistance_source, &one.reactance_source, &one.ampacity_source,
          &one.small_conductor_source, &one.dwelling_service_source}) {
      editions.add(*source);
    }
  }
  return editions.text();
}

std::string voltage_limits(const Tables& tables) {
  Editions editions("voltage limits and voltage drop");
  for (const VoltageLimits& one : tables.voltage_limits) editions.add(one.source);
  editions.add(tables.voltage_drop.source);
  return editions.text();
}

// The newest year in "2011 to 2023"; 0 where there is none.
int newest_year(const std::string& editions) {
  constexpr std::size_t kDigits = 4;
  int newest = 0;
  for (std::size_t at = 0; at < editions.size();) {
    std::size_t end = at;
    while (end < editions.size() && std::isdigit(static_cast<unsigned char>(editions[end]))) ++end;
    if (end - at == kDigits) newest = std::max(newest, std::stoi(editions.substr(at, kDigits)));
    at = end + 1;
  }
  return newest;
}

// A rule names the editions of each of its sections, and each finding prints its own; here is how
// far they go.
std::string wiring_rules(const Tables& tables) {
  std::vector<std::pair<std::string, int>> newest;
  for (const WiringRule& rule : tables.wiring_rules) {
    for (const RuleSection& section : rule.sections) {
      const int year = newest_year(section.editions);
      if (year == 0 || rule.jurisdiction == "any") continue;
      const std::string title = short_title(rule.title);
      const auto known = std::find_if(newest.begin(), newest.end(),
                                      [&](const auto& one) { return one.first == title; });
      if (known == newest.end()) {
        newest.emplace_back(title, year);
      } else {
        known->second = std::max(known->second, year);
      }
    }
  }
  Editions editions("wiring rules");
  for (const auto& [title, year] : newest) editions.add(title, fmt::format("up to {}", year));
  return editions.text();
}

}  // namespace

std::string version_text() {
  const BuildInfo& build = build_info();
  const Tables tables = load_tables();
  return fmt::format("{}\nbuild: {}, {}, commit {}\ntables, by the editions of their sources:\n",
                     program_version(), build.compiler, build.type, build.commit) +
         service_calculations(tables) + wiring_rules(tables) + conductors(tables) +
         voltage_limits(tables);
}

}  // namespace evenleg
