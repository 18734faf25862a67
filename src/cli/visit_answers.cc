#include "src/cli/visit_answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "evenleg/base/quoted.h"
#include "evenleg/house/fields.h"
#include "src/cli/typed_quantity.h"

namespace evenleg {
namespace {

constexpr double kFar = 0.3;  // of the usual volts, before a value is asked back; judgement
// By which V1 + V2 may miss V12: as a diagnosis judges it (src/diagnose/traps.cc).
constexpr double kSumVolts = 4;  // where the meter's accuracy is not stated
constexpr double kLeastSumVolts = 1;
constexpr double kValuesOfSum = 3;
constexpr double kMostVolts = 1000;
constexpr double kMostAmps = 1000;
constexpr double kMostPercent = 20;  // as of the keys of a reading

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(" \t\r");
  if (from == std::string::npos) return "";
  return text.substr(from, text.find_last_not_of(" \t\r") - from + 1);
}

// Those of `known` that the text could mean: the one of that name, else all that begin so.
std::vector<std::string> meant(const std::vector<std::string>& known, const std::string& text) {
  const std::string wanted = lower(text);
  std::vector<std::string> beginning;
  for (const std::string& one : known) {
    if (lower(one) == wanted) return {one};
    if (lower(one).starts_with(wanted)) beginning.push_back(one);
  }
  return beginning;
}

std::optional<std::string> named(const std::vector<std::string>& known, const std::string& text) {
  std::vector<std::string> all = meant(known, text);
  if (all.size() == 1) return all.front();
  return std::nullopt;
}

Refused not_named(const std::string& kind, const std::string& text,
                  const std::vector<std::string>& known) {
  const std::vector<std::string> several = meant(known, text);
  if (!several.empty()) {
    return {fmt::format("\"{}\" could be \"{}\" or \"{}\"; type more of the name", text, several[0],
                        several[1])};
  }
  const auto close = nearest(text, known);
  return {fmt::format("no {} is called \"{}\"{}", kind, text,
                      close ? fmt::format("; perhaps \"{}\"", *close) : "; ? lists them")};
}

// The meter's accuracy is so many percent and so many volts.
TypedUnit unit_of_figure(std::string_view key) {
  return key == "accuracy_volts" ? TypedUnit::Volts : TypedUnit::Percent;
}

// The reading of the question's step in `house`, made if it is not there.
Reading& reading_for(House& house, const Question& question, const std::string& now) {
  const int known = reading_of_step(house, question);
  if (known >= 0) return house.readings[static_cast<std::size_t>(known)];
  Reading reading;
  reading.at = question.place;
  reading.label = question.step;
  reading.time = now;
  reading.main_off = question.main_off;
  const auto field = [&](const char* key) -> std::optional<std::string> {
    const auto found = house.visit.find(key);
    return found == house.visit.end() ? std::nullopt : std::optional(found->second);
  };
  const auto figure_of = [&](const char* key) -> std::optional<double> {
    const auto text = field(key);
    return text ? quantity_typed(*text, unit_of_figure(key)) : std::nullopt;
  };
  reading.instrument = field("instrument");
  reading.meter_input = field("meter_input");
  reading.accuracy_percent = figure_of("accuracy_percent");
  reading.accuracy_volts = figure_of("accuracy_volts");
  reading.amps_accuracy_percent = figure_of("amps_accuracy_percent");
  house.readings.push_back(std::move(reading));
  return house.readings.back();
}

Judged text_answer(const House& house, const Question& question, const std::string& answer) {
  if (const auto fault = free_text_fault(question.key, answer)) return Refused{*fault};
  Accepted accepted{house};
  accepted.house.visit[question.key] = answer;
  return accepted;
}

Judged choice_answer(const House& house, const Question& question, const std::string& answer) {
  const auto choice = named(question.choices, answer);
  if (!choice) return Refused{fmt::format("answer {}", fmt::join(question.choices, " or "))};
  return text_answer(house, question, *choice);
}

Judged percent_answer(const House& house, const Question& question, const std::string& answer) {
  const auto value = quantity_typed(answer, unit_of_figure(question.key));
  if (!value || *value > kMostPercent) {
    return Refused{
        fmt::format("\"{}\" is no number from 0 to {}; give one, as 0.7", answer, kMostPercent)};
  }
  return text_answer(house, question, exact(*value));
}

Judged place_answer(const House& house, const Question& question, const std::string& answer) {
  std::vector<std::string> known;
  for (const Panel& panel : house.panels) known.push_back(panel.name);
  for (const Outlet& outlet : house.outlets) known.push_back(outlet.name);
  const auto place = named(known, answer);
  if (!place) return not_named("panel or outlet", answer, known);
  if (is_read_already(house, *place)) {
    return Refused{fmt::format(
        "\"{}\" is among the places of this visit; back leads to its questions", *place)};
  }
  Accepted accepted{house};
  std::string& places = accepted.house.visit[question.key];
  places += (places.empty() ? "" : "; ") + *place;
  return accepted;
}

std::vector<std::string> parts_of(const std::string& answer) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (std::size_t comma = 0; comma != std::string::npos; from = comma + 1) {
    comma = answer.find(',', from);
    parts.push_back(answer.substr(from, comma - from));
  }
  return parts;
}

struct Taken {
  std::string load;
  std::size_t parts = 0;  // that its name took; 0: none is called so
};

// The load that the parts from `first` on name: as many as make up a name with commas in it, else
// the first alone, by its beginning or by number.
Taken load_taken(const std::vector<std::string>& known, const std::vector<std::string>& parts,
                 std::size_t first) {
  for (std::size_t last = parts.size(); last > first; --last) {
    const auto from = parts.begin() + static_cast<std::ptrdiff_t>(first);
    const auto end = parts.begin() + static_cast<std::ptrdiff_t>(last);
    const std::string whole = lower(trimmed(fmt::format("{}", fmt::join(from, end, ","))));
    for (const std::string& one : known) {
      if (lower(one) == whole) return {one, last - first};
    }
  }
  const std::string text = trimmed(parts[first]);
  if (const auto load = named(known, text)) return {*load, 1};
  std::size_t number = 0;
  const char* end = text.data() + text.size();
  const bool numbered = std::from_chars(text.data(), end, number).ptr == end;
  if (numbered && number >= 1 && number <= known.size()) return {known[number - 1], 1};
  return {};
}

Judged loads_answer(const House& house, const Question& question, const std::string& answer,
                    const std::string& now) {
  const std::vector<std::string> known = loads_to_choose(house);
  const std::vector<std::string> parts = parts_of(answer);
  std::vector<std::string> on;
  for (std::size_t p = 0; p < parts.size();) {
    if (trimmed(parts[p]).empty()) {
      ++p;
      continue;
    }
    const Taken taken = load_taken(known, parts, p);
    if (taken.parts == 0) return not_named("load", trimmed(parts[p]), known);
    if (std::count(on.begin(), on.end(), taken.load) == 0) on.push_back(taken.load);
    p += taken.parts;
  }
  if (on.empty()) return Refused{"name a load, or press Enter to leave this out"};
  Accepted accepted{house};
  reading_for(accepted.house, question, now).on = on;
  return accepted;
}

double sum_allowance(const Reading& reading, double volts) {
  if (!reading.accuracy_percent && !reading.accuracy_volts) return kSumVolts;
  const double gain = 2 * reading.accuracy_percent.value_or(0) / kPercent * volts;
  return std::max(kLeastSumVolts, gain + kValuesOfSum * reading.accuracy_volts.value_or(0));
}

// What is unlikely about a value, "" for nothing. `reading`: with the value in it.
std::string doubt_of(const Reading& reading, const Question& question, double value,
                     const SupplySystem& system) {
  if (question.kind == QuestionKind::Amps) {
    return value > question.usual ? fmt::format("{} A is much for a test load", exact(value)) : "";
  }
  if (question.usual > 0 && std::abs(value - question.usual) > kFar * question.usual) {
    return fmt::format("{} V is far from the usual {} V", exact(value), figure(question.usual));
  }
  const bool of_sum = question.member == &Reading::l1_n_volts ||
                      question.member == &Reading::l2_n_volts ||
                      question.member == &Reading::l1_l2_volts;
  if (!of_sum || !system.split_phase) return "";
  if (!reading.l1_n_volts || !reading.l2_n_volts || !reading.l1_l2_volts) return "";
  const double sum = *reading.l1_n_volts + *reading.l2_n_volts;
  if (std::abs(sum - *reading.l1_l2_volts) <= sum_allowance(reading, sum)) return "";
  return fmt::format("L1 to L2 is {} V, but the two legs add up to {} V",
                     exact(*reading.l1_l2_volts), fixed(sum, 1));
}

// Volts under load say nothing of a conductor while nobody knows what was drawn; worse, a reading
// with neither loads nor amperes counts as taken with nothing on.
bool lacks_current(const Reading& reading) {
  return reading.on.empty() && !reading.l1_amps && !reading.l2_amps && !reading.l3_amps;
}

Judged value_answer(const House& house, const Wiring& wiring, const Question& question,
                    const std::string& answer, const std::string& now, bool sure) {
  const bool volts = question.kind == QuestionKind::Volts;
  const auto value = quantity_typed(answer, volts ? TypedUnit::Volts : TypedUnit::Amps);
  const double most = volts ? kMostVolts : kMostAmps;
  if (!value || *value > most) {
    return Refused{fmt::format("\"{}\" is no number of {} from 0 to {}; give one, as {}", answer,
                               volts ? "volts" : "amperes", most, volts ? "118.9" : "12.1")};
  }
  Accepted accepted{house};
  Reading& reading = reading_for(accepted.house, question, now);
  if (volts && question.loaded && lacks_current(reading)) {
    return Refused{
        "neither a load nor a leg's amperes were given, so these volts would count as read with "
        "nothing on; back leads to both"};
  }
  reading.*question.member = *value;
  const std::string doubt = doubt_of(reading, question, *value, wiring.system);
  if (!doubt.empty() && !sure) {
    return Doubted{doubt + ". Is that right? yes, or the right value"};
  }
  return accepted;
}

}  // namespace

std::vector<std::string> loads_to_choose(const House& house) {
  std::vector<std::string> names;
  for (const Load& load : house.loads) names.push_back(load.name);
  return names;
}

std::vector<std::string> places_to_choose(const House& house) {
  std::vector<std::string> names;
  for (const Panel& panel : house.panels) names.push_back(panel.name);
  for (const Outlet& outlet : house.outlets) names.push_back(outlet.name);
  std::erase_if(names, [&](const std::string& name) { return is_read_already(house, name); });
  return names;
}

Judged judge_answer(const House& house, const Wiring& wiring, const Question& question,
                    const std::string& answer, const std::string& now, bool sure) {
  switch (question.kind) {
    case QuestionKind::Confirm:
      if (lower(answer) == "yes") return Accepted{house};
      return Refused{"type yes in full, or press Enter to leave this out"};
    case QuestionKind::Text:
      return text_answer(house, question, answer);
    case QuestionKind::Choice:
      return choice_answer(house, question, answer);
    case QuestionKind::Percent:
      return percent_answer(house, question, answer);
    case QuestionKind::Place:
      return place_answer(house, question, answer);
    case QuestionKind::Loads:
      return loads_answer(house, question, answer, now);
    case QuestionKind::Volts:
    case QuestionKind::Amps:
      return value_answer(house, wiring, question, answer, now, sure);
  }
  return Refused{"no such question"};
}

}  // namespace evenleg
