#include "src/diagnose/log_columns.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace evenleg {
namespace {

using Names = std::vector<std::string_view>;

// How a leg is written, first and second.
const std::array<Names, 2> kLegs{Names{"l1", "leg1", "lega", "line1", "linea", "phase1", "phasea",
                                       "ph1", "pha", "ch1", "1", "a"},
                                 Names{"l2", "leg2", "legb", "line2", "lineb", "phase2", "phaseb",
                                       "ph2", "phb", "ch2", "2", "b"}};

// What may stand around it, the leg at '#'. Without a unit in brackets they tell the quantity.
const Names kVoltsForms{"#v",        "#nv",       "#n",    "#volts", "#nvolts",     "#voltage",
                        "#nvoltage", "v#",        "v#n",   "u#",     "u#n",         "volts#",
                        "voltage#",  "voltage#n", "#vrms", "v#rms",  "u#rms",       "#voltsrms",
                        "vrms#",     "urms#",     "#u",    "#tonv",  "#toneutralv", "#tonvolts",
                        "volt#",     "#volt"};
const Names kAmpsForms{"#a",    "#amp",  "#amps", "#current", "i#",       "amps#", "current#",
                       "#arms", "irms#", "i#rms", "#i",       "#ampsrms", "ct#"};
const Names kPlainForms{"#", "#n", "v#", "u#", "i#", "#rms", "ch#"};  // with a unit in brackets
const Names kTimes{"time",   "timestamp", "datetime",    "dateandtime",    "utc",      "localtime",
                   "when",   "seconds",   "elapsed",     "elapsedseconds", "unixtime", "epoch",
                   "unixts", "ts",        "localminute", "dateheure",      "zeit",     "t"};
const Names kDates{"date", "day", "datum"};
const Names kTail{"avg", "average",
                  "mean"};  // of the interval; what a recorder writes beside min, max

enum class Unit { None, Volts, Amps, Other };

struct Heading {
  std::string name;
  Unit unit = Unit::None;
};

std::string letters(std::string_view text) {
  std::string plain;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) != 0) plain += static_cast<char>(std::tolower(byte));
  }
  return plain;
}

Unit unit_of(std::string_view text) {
  const std::string name = letters(text);
  if (name == "v" || name == "volt" || name == "volts" || name == "vrms" || name == "vac") {
    return Unit::Volts;
  }
  if (name == "a" || name == "amp" || name == "amps" || name == "arms" || name == "aac") {
    return Unit::Amps;
  }
  return Unit::Other;
}

Heading heading_of(std::string_view text) {
  Heading heading;
  const std::size_t open = text.find_first_of("([");
  if (open != std::string_view::npos) {
    heading.unit = unit_of(text.substr(open, text.find_first_of(")]") - open));
    text = text.substr(0, open);
  }
  heading.name = letters(text);
  for (const std::string_view tail : kTail) {
    if (heading.name.ends_with(tail) && heading.name.size() > tail.size()) {
      heading.name.resize(heading.name.size() - tail.size());
    }
  }
  return heading;
}

bool is_among(const Names& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

bool is_form(const Names& forms, std::string_view leg, const std::string& name) {
  return std::any_of(forms.begin(), forms.end(), [&](std::string_view form) {
    const std::size_t at = form.find('#');
    return name.size() == form.size() - 1 + leg.size() && name.starts_with(form.substr(0, at)) &&
           std::string_view(name).substr(at).starts_with(leg) &&
           name.ends_with(form.substr(at + 1));
  });
}

// "time_s", "local time", "datetime utc" beside those listed.
bool is_time(const std::string& name) {
  return is_among(kTimes, name) || name.starts_with("time") || name.starts_with("datetime") ||
         name.ends_with("time") || name.ends_with("timestamp");
}

LogField field_of(const Heading& heading) {
  if (heading.unit == Unit::Other || heading.unit == Unit::None) {
    if (is_time(heading.name)) return LogField::Time;
    if (is_among(kDates, heading.name)) return LogField::Date;
  }
  for (std::size_t leg = 0; leg < kLegs.size(); ++leg) {
    const LogField volts = leg == 0 ? LogField::L1Volts : LogField::L2Volts;
    const LogField amps = leg == 0 ? LogField::L1Amps : LogField::L2Amps;
    for (const std::string_view name : kLegs[leg]) {
      const bool plain = is_form(kPlainForms, name, heading.name);
      if (heading.unit == Unit::Amps) {
        if (plain || is_form(kAmpsForms, name, heading.name)) return amps;
        continue;
      }
      if (heading.unit == Unit::Volts && plain) return volts;
      // Apparent power, where no unit says volts.
      if (heading.unit == Unit::None && heading.name == "va") continue;
      if (heading.unit != Unit::Other && is_form(kVoltsForms, name, heading.name)) return volts;
      if (heading.unit == Unit::None && is_form(kAmpsForms, name, heading.name)) return amps;
    }
  }
  return LogField::Ignored;
}

char separator_of(std::string_view line) {
  constexpr std::array<char, 3> kSeparators{'\t', ';', ','};
  for (const char separator : kSeparators) {
    if (line.find(separator) != std::string_view::npos) return separator;
  }
  return ',';
}

// "V_A" beside "V_B" is volts, though "VA" alone would be apparent power.
void take_va_for_volts(std::string_view line, LogColumns& columns) {
  if (columns.has(LogField::L1Volts) || !columns.has(LogField::L2Volts)) return;
  std::vector<std::string_view> parts;
  std::string unquoted;
  split_fields(line, columns.separator, parts, unquoted);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (heading_of(parts[i]).name == "va") columns.fields[i] = LogField::L1Volts;
  }
}

}  // namespace

void split_fields(std::string_view line, char separator, std::vector<std::string_view>& fields,
                  std::string& unquoted) {
  fields.clear();
  unquoted.clear();
  if (line.find('"') == std::string_view::npos) {
    for (std::size_t from = 0;;) {
      const std::size_t to = line.find(separator, from);
      fields.push_back(line.substr(from, to - from));
      if (to == std::string_view::npos) return;
      from = to + 1;
    }
  }
  // With quotes the fields live in `unquoted`, which is not moved while they do.
  unquoted.reserve(line.size());
  bool quoted = false;
  std::size_t start = 0;
  const auto end_field = [&] {
    fields.push_back(std::string_view(unquoted).substr(start));
    start = unquoted.size();
  };
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      end_field();
    } else {
      unquoted += c;
    }
  }
  end_field();
}

bool LogColumns::has(LogField field) const {
  return std::find(fields.begin(), fields.end(), field) != fields.end();
}

std::vector<LogField> fields_in(std::string_view line) {
  std::vector<std::string_view> parts;
  std::string unquoted;
  split_fields(line, separator_of(line), parts, unquoted);
  std::vector<LogField> fields;
  for (const std::string_view part : parts) fields.push_back(field_of(heading_of(part)));
  return fields;
}

std::optional<LogColumns> columns_of_heading(std::string_view line) {
  LogColumns columns;
  columns.separator = separator_of(line);
  columns.fields = fields_in(line);
  // The first of a kind counts.
  for (std::size_t i = 0; i < columns.fields.size(); ++i) {
    const auto end = columns.fields.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(columns.fields.begin(), end, columns.fields[i]) != end) {
      columns.fields[i] = LogField::Ignored;
    }
  }
  take_va_for_volts(line, columns);
  const bool timed = columns.has(LogField::Time) || columns.has(LogField::Date);
  if (!timed || !columns.has(LogField::L1Volts) || !columns.has(LogField::L2Volts)) {
    return std::nullopt;
  }
  std::vector<std::string_view> parts;
  std::string unquoted;
  split_fields(line, columns.separator, parts, unquoted);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (columns.fields[i] == LogField::Ignored && !parts[i].empty()) {
      columns.unused.emplace_back(parts[i]);
    }
  }
  return columns;
}

}  // namespace evenleg
