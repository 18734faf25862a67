// Joins the printed tables of conductors.toml by size and metal.
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "src/tables/readers.h"

namespace evenleg {
namespace {

struct Metal {
  std::string_view symbol;  // in names: "12 Cu"
  std::string_view word;    // in keys: "copper_a"
};
constexpr Metal kMetals[] = {{"Cu", "copper"}, {"Al", "aluminium"}};

constexpr double kMetresPerFoot = 0.3048;  // exact: the international foot of 1959
constexpr double kPerKilo = 1000;
constexpr double kPrintedAtC = 20;  // IEC 60228 gives resistance at 20 °C

double per_metre_from_kft(double ohms_per_kft) {
  return ohms_per_kft / (kPerKilo * kMetresPerFoot);
}
double per_metre_from_km(double ohms_per_km) { return ohms_per_km / kPerKilo; }

std::string key_of(const Metal& metal, std::string_view unit) {
  return fmt::format("{}_{}", metal.word, unit);
}

// A printed table that is being joined: its rows, and the conductors that they are about.
struct Printed {
  Row table;
  Citation source;
  std::vector<Row> rows;
  std::vector<Conductor>& conductors;

  Printed(Row& root, std::string_view key, Tables& tables)
      : table(root.table(key)),
        source(table.citation("source")),
        rows(table.rows("rows")),
        conductors(tables.conductors) {}

  // The conductor of that name; a row about one that table 8 or IEC 60228 lacks is a fault.
  auto find(Row& row, std::string_view key, const std::string& name) {
    const auto found = std::find_if(conductors.begin(), conductors.end(),
                                    [&](const Conductor& c) { return c.name == name; });
    if (found == conductors.end()) {
      row.refuse(key, fmt::format("no resistance is given for \"{}\"", name),
                 "correct the size, or add its resistance");
    }
    return found;
  }

  // Adds a conductor; larger sizes must follow smaller ones, since table 310.12 relies on it.
  void add(Row& row, const std::string& key, Conductor conductor) {
    const auto metal = std::string_view(conductor.name).substr(conductor.name.rfind(' '));
    const auto before =
        std::find_if(conductors.rbegin(), conductors.rend(), [&](const Conductor& c) {
          return c.name.ends_with(metal) && c.resistance_source == source;
        });
    if (before != conductors.rend() && before->ohms_per_metre <= conductor.ohms_per_metre) {
      row.refuse(
          key, fmt::format("\"{}\" has no less resistance than the size before it", conductor.name),
          "order the rows from small to large conductors");
    }
    conductors.push_back(std::move(conductor));
  }

  void end() {
    for (Row& row : rows) row.end();
    table.end();
  }
};

void read_table_8(Row& root, Tables& tables) {
  Printed printed(root, "table_8", tables);
  for (Row& row : printed.rows) {
    const std::string size = row.text("size");
    (void)row.number("strands", Allowed::Positive);  // printed there, but not needed for the sums
    for (const Metal& metal : kMetals) {
      const std::string key = key_of(metal, "ohm_per_kft");
      Conductor conductor;
      conductor.name = fmt::format("{} {}", size, metal.symbol);
      conductor.ohms_per_metre = per_metre_from_kft(row.number(key, Allowed::Positive));
      conductor.resistance_source = printed.source;
      printed.add(row, key, std::move(conductor));
    }
  }
  printed.end();
}

void read_table_9(Row& root, Tables& tables) {
  Printed printed(root, "table_9", tables);
  for (Row& row : printed.rows) {
    const std::string size = row.text("size");
    const double reactance = row.number("reactance_ohm_per_kft", Allowed::NotNegative);
    for (const Metal& metal : kMetals) {
      const auto conductor = printed.find(row, "size", fmt::format("{} {}", size, metal.symbol));
      if (conductor == tables.conductors.end()) continue;
      conductor->reactance_ohms_per_metre = per_metre_from_kft(reactance);
      conductor->reactance_source = printed.source;
    }
  }
  printed.end();
}

void read_table_310_16(Row& root, Tables& tables) {
  constexpr std::size_t kRatings = 3;  // 60, 75 and 90 °C insulation
  Printed printed(root, "table_310_16", tables);
  for (Row& row : printed.rows) {
    const std::string size = row.text("size");
    for (const Metal& metal : kMetals) {
      const std::string key = key_of(metal, "60_75_90_a");
      const std::vector<double> amps = row.numbers_if(key, kRatings);
      if (amps.empty()) continue;
      const auto conductor = printed.find(row, key, fmt::format("{} {}", size, metal.symbol));
      if (conductor == tables.conductors.end()) continue;
      conductor->ampacity_60c = amps[0];
      conductor->ampacity = amps[1];
      conductor->ampacity_90c = amps[2];
      conductor->ampacity_source = printed.source;
    }
  }
  printed.end();
}

void read_rule_240_4_d(Row& root, Tables& tables) {
  Printed printed(root, "rule_240_4_d", tables);
  for (Row& row : printed.rows) {
    const std::string size = row.text("size");
    for (const Metal& metal : kMetals) {
      const std::string key = key_of(metal, "a");
      const std::optional<double> amps = row.number_if(key, Allowed::Positive);
      if (!amps) continue;
      const auto conductor = printed.find(row, key, fmt::format("{} {}", size, metal.symbol));
      if (conductor == tables.conductors.end()) continue;
      conductor->small_conductor_limit = *amps;
      conductor->small_conductor_source = printed.source;
    }
  }
  printed.end();
}

// Each rating holds for the printed size and, as the rows go up, for every larger one.
void read_table_310_12(Row& root, Tables& tables) {
  Printed printed(root, "table_310_12", tables);
  double last = 0;
  for (Row& row : printed.rows) {
    const double rating = row.number("rating_a", Allowed::Positive);
    if (rating <= last) {
      row.refuse("rating_a", "the ratings do not rise", "order the rows by rating");
    }
    last = rating;
    for (const Metal& metal : kMetals) {
      const std::optional<std::string> size = row.text_if(metal.word);
      if (!size) continue;
      auto conductor = printed.find(row, metal.word, fmt::format("{} {}", *size, metal.symbol));
      for (; conductor != tables.conductors.end(); ++conductor) {
        if (!conductor->name.ends_with(metal.symbol)) continue;
        conductor->dwelling_service_limit = rating;
        conductor->dwelling_service_source = printed.source;
      }
    }
  }
  printed.end();
}

void read_iec_60228(Row& root, Tables& tables) {
  Printed printed(root, "iec_60228", tables);
  const double rise = printed.table.number("working_c", Allowed::Positive) - kPrintedAtC;
  double warmer[std::size(kMetals)];  // R(working) / R(20 °C) of each metal
  for (std::size_t m = 0; m < std::size(kMetals); ++m) {
    const double alpha = printed.table.number(key_of(kMetals[m], "alpha_per_c"), Allowed::Positive);
    warmer[m] = 1 + alpha * rise;
  }
  for (Row& row : printed.rows) {
    const std::string size = row.text("size_mm2");
    for (std::size_t m = 0; m < std::size(kMetals); ++m) {
      const std::string key = key_of(kMetals[m], "ohm_per_km");
      const std::optional<double> ohms = row.number_if(key, Allowed::Positive);
      if (!ohms) continue;
      Conductor conductor;
      conductor.name = fmt::format("{} mm2 {}", size, kMetals[m].symbol);
      conductor.ohms_per_metre = per_metre_from_km(*ohms) * warmer[m];
      conductor.resistance_source = printed.source;
      printed.add(row, key, std::move(conductor));
    }
  }
  printed.end();
}

void read_table_b_52_4(Row& root, Tables& tables) {
  Printed printed(root, "table_b_52_4", tables);
  for (Row& row : printed.rows) {
    const std::string size = row.text("size_mm2");
    for (const Metal& metal : kMetals) {
      const std::string key = key_of(metal, "a");
      const std::optional<double> amps = row.number_if(key, Allowed::Positive);
      if (!amps) continue;
      const auto conductor = printed.find(row, key, fmt::format("{} mm2 {}", size, metal.symbol));
      if (conductor == tables.conductors.end()) continue;
      conductor->ampacity = *amps;
      conductor->ampacity_source = printed.source;
    }
  }
  printed.end();
}

}  // namespace

void read_conductors(Row& root, Tables& tables) {
  (void)root.citation("source");  // must be there; each conductor carries those of its own tables
  read_table_8(root, tables);
  read_table_9(root, tables);
  read_table_310_16(root, tables);
  read_rule_240_4_d(root, tables);
  read_table_310_12(root, tables);  // before the metric sizes, which it does not cover
  read_iec_60228(root, tables);
  read_table_b_52_4(root, tables);
  root.end();
}

std::optional<double> branch_ampacity(const Conductor& conductor) {
  if (!conductor.ampacity) return conductor.small_conductor_limit;
  if (!conductor.small_conductor_limit) return conductor.ampacity;
  return std::min(*conductor.ampacity, *conductor.small_conductor_limit);
}

}  // namespace evenleg
