#include "src/tables/load_laws.h"

#include <fmt/format.h>

#include <utility>

namespace evenleg {
namespace {

constexpr double kMostExponent = 4;  // of a measured load; beyond it a slip of the pen

double exponent_in(Row& row, std::string_view key) {
  const double exponent = row.number(key, Allowed::NotNegative);
  if (exponent > kMostExponent) {
    row.refuse(key, fmt::format("an exponent of {}", exponent), "write 0 to 4");
  }
  return exponent;
}

std::vector<double> three_in(Row& row, std::string_view key) {
  std::vector<double> values;
  Row zip = row.table(key);
  for (const char* term : {"z", "i", "p"}) values.push_back(zip.number(term, Allowed::Any));
  zip.end();
  return values;
}

// Two thresholds with hysteresis: the second at or over the first.
void read_pair(Row& row, std::string_view low, std::string_view high, std::optional<double>& below,
               std::optional<double>& above) {
  below = row.number(low, Allowed::Positive);
  above = row.number(high, Allowed::Positive);
  if (*above < *below) {
    row.refuse(high, fmt::format("{} is below {}", *above, low),
               fmt::format("write {} or more", *below));
  }
}

void read_curve(Row& row, LoadLaw& law) {
  if (row.has("conducts_above")) {
    law.conducts_above = row.number("conducts_above", Allowed::Positive);
    law.conducts_amps = row.number("conducts_amps", Allowed::Positive);
    law.conducts_exponent = row.number("conducts_exponent", Allowed::Positive);
    return;
  }
  law.active_exponent = exponent_in(row, "active");
  law.reactive_exponent = exponent_in(row, "reactive");
  if (row.has("zip_active")) {
    ZipFit zip;
    zip.active = three_in(row, "zip_active");
    zip.reactive = three_in(row, "zip_reactive");
    zip.from = row.number("zip_from", Allowed::Positive);
    zip.to = row.number("zip_to", Allowed::Positive);
    if (zip.to < zip.from)
      row.refuse("zip_to", "less than zip_from", "write the higher volts here");
    law.zip = std::move(zip);
  }
  if (const auto run = row.text_if("run")) {
    law.motor_run = *run == "motor d";
    if (!law.motor_run) {
      row.refuse("run", fmt::format("\"{}\" is not a run law", *run), "write \"motor d\"");
    }
  }
}

void read_limits(Row& row, const References& references, LoadLaw& law) {
  law.limits_in_volts = row.has("limits_volts") && row.flag("limits_volts");
  if (row.has("off_below")) read_pair(row, "off_below", "on_above", law.off_below, law.on_above);
  if (row.has("stalls_below")) {
    read_pair(row, "stalls_below", "restarts_above", law.stalls_below, law.restarts_above);
    const std::vector<double> ohms = row.numbers_if("stalled_ohms", 2);
    if (ohms.size() == 2) {
      law.stalled_ohms = {ohms[0], ohms[1]};
    } else {
      row.refuse("stalls_below", "no impedance for the stalled motor",
                 "add stalled_ohms = [R, X], per unit");
    }
  }
  if (row.has("fails_above")) {
    law.fails_above = row.number("fails_above", Allowed::Positive);
    law.fails_after = row.text("fails_after");
  }
  if (law.limits_in_volts && (law.stalls_below || law.conducts_above)) {
    row.refuse("limits_volts", "a law that stalls or conducts is per unit of its nameplate",
               "remove limits_volts");
  }
  if (law.off_below || law.stalls_below || law.fails_above) {
    law.limits_source = references.named_by(row, "limits_reference");
  }
}

}  // namespace

std::vector<LoadLaw> read_load_laws(Row& root, const References& references) {
  std::vector<LoadLaw> laws;
  if (!root.has("laws")) return laws;
  Row table = root.table("laws");
  for (const std::string& name : table.table_keys()) {
    Row row = table.table(name);
    LoadLaw law;
    law.name = name;
    law.text = row.text("text");
    read_curve(row, law);
    read_limits(row, references, law);
    law.note = row.text_if("note").value_or("");
    law.source = references.named_by(row, "reference");
    row.end();
    laws.push_back(std::move(law));
  }
  table.end();
  return laws;
}

}  // namespace evenleg
