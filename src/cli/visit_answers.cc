#include "src/cli/visit_answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/house/fields.h"

namespace evenleg {
namespace {

constexpr double kFar = 0.3;     // of the usual volts, before a value is asked back; judgement
constexpr double kSumVolts = 4;  // by which V1 + V2 may miss V12; as in a diagnosis
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

// The one of `known` that the text names: itself, else the only one that begins so.
std::optional<std::string> named(const std::vector<std::string>& known, const std::string& text) {
  const std::string wanted = lower(text);
  std::vector<std::string> beginning;
  for (const std::string& one : known) {
    if (lower(one) == wanted) return one;
    if (lower(one).starts_with(wanted)) beginning.push_back(one);
  }
  if (beginning.size() == 1) return beginning.front();
  return std::nullopt;
}

Refused not_named(const std::string& kind, const std::string& text,
                  const std::vector<std::string>& known) {
  const auto close = nearest(text, known);
  return {fmt::format("no {} is called \"{}\"{}", kind, text,
                      close ? fmt::format("; perhaps \"{}\"", *close) : "; ? lists them")};
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
    return text ? number_typed(*text) : std::nullopt;
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
  if (!choice) return Refused{fmt::format("answer {}", listed(question.choices))};
  return text_answer(house, question, *choice);
}

Judged percent_answer(const House& house, const Question& question, const std::string& answer) {
  const auto value = number_typed(answer);
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
  Accepted accepted{house};
  std::string& places = accepted.house.visit[question.key];
  places += (places.empty() ? "" : "; ") + *place;
  return accepted;
}

Judged loads_answer(const House& house, const Question& question, const std::string& answer,
                    const std::string& now) {
  const std::vector<std::string> known = loads_to_choose(house);
  std::vector<std::string> on;
  std::string rest = answer + ",";
  for (std::size_t comma = rest.find(','); comma != std::string::npos; comma = rest.find(',')) {
    const std::string text = trimmed(rest.substr(0, comma));
    rest.erase(0, comma + 1);
    if (text.empty()) continue;
    std::size_t number = 0;
    const char* end = text.data() + text.size();
    const bool numbered = std::from_chars(text.data(), end, number).ptr == end;
    auto load = named(known, text);
    if (!load && numbered && number >= 1 && number <= known.size()) load = known[number - 1];
    if (!load) return not_named("load", text, known);
    if (std::count(on.begin(), on.end(), *load) == 0) on.push_back(*load);
  }
  Accepted accepted{house};
  reading_for(accepted.house, question, now).on = on;
  return accepted;
}

// What is unlikely about a value, "" for nothing.
std::string doubt_of(const Reading& reading, const Question& question, double value,
                     const SupplySystem& system) {
  if (question.kind == QuestionKind::Amps) {
    return value > question.usual ? fmt::format("{} A is much for a test load", exact(value)) : "";
  }
  if (question.usual > 0 && std::abs(value - question.usual) > kFar * question.usual) {
    return fmt::format("{} V is far from the usual {} V", exact(value), figure(question.usual));
  }
  if (question.member != &Reading::l1_l2_volts || !system.split_phase) return "";
  if (!reading.l1_n_volts || !reading.l2_n_volts) return "";
  const double sum = *reading.l1_n_volts + *reading.l2_n_volts;
  if (std::abs(sum - value) <= kSumVolts) return "";
  return fmt::format("{} V, but the two legs add up to {} V", exact(value), fixed(sum, 1));
}

Judged value_answer(const House& house, const Wiring& wiring, const Question& question,
                    const std::string& answer, const std::string& now, bool sure) {
  const bool volts = question.kind == QuestionKind::Volts;
  const auto value = number_typed(answer);
  const double most = volts ? kMostVolts : kMostAmps;
  if (!value || *value > most) {
    return Refused{fmt::format("\"{}\" is no number of {} from 0 to {}; give one, as {}", answer,
                               volts ? "volts" : "amperes", most, volts ? "118.9" : "12.1")};
  }
  Accepted accepted{house};
  Reading& reading = reading_for(accepted.house, question, now);
  const std::string doubt = doubt_of(reading, question, *value, wiring.system);
  if (!doubt.empty() && !sure) {
    return Doubted{doubt + ". Is that right? Give it again if it is, or the right value"};
  }
  reading.*question.member = *value;
  return accepted;
}

}  // namespace

std::optional<double> number_typed(std::string text) {
  text = trimmed(text);
  while (!text.empty() && (std::isalpha(static_cast<unsigned char>(text.back())) != 0 ||
                           text.back() == ' ' || text.back() == '%')) {
    text.pop_back();
  }
  std::replace(text.begin(), text.end(), ',', '.');
  double value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, value);
  if (text.empty() || fault != std::errc() || stop != end) return std::nullopt;
  if (!std::isfinite(value) || value < 0) return std::nullopt;
  return value;
}

std::vector<std::string> loads_to_choose(const House& house) {
  std::vector<std::string> names;
  for (const Load& load : house.loads) names.push_back(load.name);
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
