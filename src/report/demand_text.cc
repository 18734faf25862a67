#include "evenleg/report/demand_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/source_list.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr std::string_view kCaution =
    "This is a calculation from a description, not an approval. It does not show that the service "
    "may be relied on, and what is not described is not counted. The code in force where the house "
    "stands, with its local amendments, the authority having jurisdiction, the utility and a "
    "licensed electrician go before it. A rule that was read second hand, from memory or by "
    "judgement is to be looked up before a decision hangs on it.";

std::string whole(double value) { return fixed(value, 0); }
std::string tenth(double value) { return fixed(value, 1); }

// "145 A (145.0)": whole as the rule rounds, exact beside it.
std::string both(double amps) {
  return fmt::format("{} A ({})", whole(whole_amps(amps)), tenth(amps));
}

std::string title(const House& house, const DemandResult& result) {
  constexpr int kMostName = 50;  // columns
  const std::string name = shortened(name_of(house), kMostName);
  return paragraph(
      fmt::format("{}, {}: service load, {}", name.empty() ? "A house without a name" : name,
                  house.supply.system, result.method_text),
      0);
}

std::string rules_sentence(const DemandResult& result) {
  std::string text = fmt::format("By {}, edition {}", result.code, result.edition);
  if (result.default_edition) text += " (none was asked for; --edition takes another)";
  return text +
         fmt::format(". Volts are nominal, {} V between the legs.", exact(result.line_volts));
}

std::string added_sentence(const DemandResult& result) {
  std::vector<std::string> added;
  for (const DemandItem& item : result.items) {
    if (item.category_from != "added") continue;
    added.push_back(fmt::format("{}, {} VA", in_quotes(item.name), whole(item.va)));
  }
  return added.empty() ? "" : " With what is added: " + listed(added) + ".";
}

std::string answer(const DemandResult& result, SourceList& sources) {
  std::string mark = sources.mark(result.rounding_source);
  if (!mark.empty()) mark = " " + mark;
  const double sum = result.load / result.line_volts;
  std::string amps = mark.empty() ? tenth(result.amps) + " A" : both(result.amps) + mark;
  if (!result.by_line.empty()) {
    amps = fmt::format("{} together, and leg by leg {} on the leg that has more{}", both(sum),
                       both(result.amps), mark);
  }
  std::string text = fmt::format("Calculated load of the service: {} {}, {}.{}", whole(result.load),
                                 result.unit, amps, added_sentence(result));
  if (result.neutral_amps) {
    text += fmt::format(" Its neutral: {}.", both(*result.neutral_amps));
  }
  return text;
}

std::string sizes(const DemandResult& result, SourceList& sources) {
  std::string text =
      fmt::format("The least service of such a dwelling is {} A {}",
                  whole(result.least_service_amps), sources.mark(result.least_service_source));
  if (!result.next_rating_amps) return text + ".";
  return text + fmt::format("; the standard rating that follows both is {} A {}.",
                            whole(*result.next_rating_amps),
                            sources.mark(result.next_rating_source));
}

// What the neutral is held to: leg by leg where that is more.
double neutral_amps(const DemandResult& result) {
  return whole_amps(result.neutral_by_leg_amps.value_or(result.neutral_amps.value_or(0)));
}

std::string neutral_short(const DemandResult& result) {
  for (const DemandLimit& limit : result.neutral_limits) {
    if (limit.amps >= neutral_amps(result)) continue;
    return fmt::format(" Its neutral is calculated with {} A more than the ampacity of the {}.",
                       whole(neutral_amps(result) - limit.amps), limit.what);
  }
  return "";
}

std::string room_left(const DemandResult& result) {
  if (!result.spare_amps) {
    return "Neither the service's breaker nor its conductor is described, so that nothing can be "
           "said of what is left.";
  }
  if (*result.spare_amps < 0) {
    return fmt::format("That is {} A more than the service as described.",
                       tenth(-*result.spare_amps));
  }
  return fmt::format(
      "{} A, {} {}, are left of the service as described for a load that is counted in full. "
      "`--add \"EV charger=9600 W\"` calculates with one that is not there yet.",
      tenth(*result.spare_amps), whole(*result.spare_amps * result.line_volts), result.unit);
}

std::string steps_table(const std::vector<DemandStep>& steps, const std::string& unit,
                        SourceList& sources) {
  TextTable table({{"step"}, {"rule"}, {unit, Align::Right}, {"total", Align::Right}, {"source"}});
  for (const DemandStep& step : steps) {
    table.add(
        {step.text, step.section, whole(step.value), whole(step.total), sources.mark(step.source)});
  }
  return table.text();
}

std::string by_line_section(const DemandResult& result, SourceList& sources) {
  if (result.by_line.empty()) return "";
  TextTable table({{"load"},
                   {result.legs[0] + " A", Align::Right},
                   {"neutral A", Align::Right},
                   {result.legs[1] + " A", Align::Right},
                   {"source"}});
  DemandByLine sum{"Together", "", "", {0, 0}, 0};
  for (const DemandByLine& row : result.by_line) {
    table.add({row.text, tenth(row.legs[0]), tenth(row.neutral), tenth(row.legs[1]),
               sources.mark(row.source)});
    for (std::size_t leg = 0; leg < 2; ++leg) sum.legs[leg] += row.legs[leg];
    sum.neutral += row.neutral;
  }
  table.add({sum.text, tenth(sum.legs[0]), tenth(sum.neutral), tenth(sum.legs[1]), ""});
  return heading("Leg by leg") + table.text() +
         paragraph(
             "Loads from a leg to the neutral are paired across the legs, the larger with "
             "the larger; the neutral takes the larger of a pair.");
}

std::string neutral_section(const DemandResult& result, SourceList& sources) {
  if (!result.neutral_amps) return "";
  std::string text = heading("Neutral") + steps_table(result.neutral_steps, result.unit, sources);
  if (!result.by_line.empty()) {
    text += paragraph(fmt::format("These are {} A, the first row of the neutral leg by leg.",
                                  tenth(*result.neutral_va / result.line_volts)));
  }
  if (result.neutral_by_leg_amps) {
    text += paragraph(fmt::format(
        "Taking the loads leg by leg, the larger of each pair and 25 % of the largest motor, makes "
        "{}: what is larger on one leg is not halved then. A neutral is better sized for that.",
        both(*result.neutral_by_leg_amps)));
  }
  return text;
}

std::string limits_table(const DemandResult& result, SourceList& sources) {
  if (result.limits.empty() && result.neutral_limits.empty()) return "";
  TextTable table({{"held against"},
                   {"A", Align::Right},
                   {"load A", Align::Right},
                   {"left A", Align::Right},
                   {"source"}});
  const auto add = [&](const DemandLimit& limit, double amps) {
    table.add({limit.what, whole(limit.amps), tenth(amps), tenth(limit.amps - amps),
               limit.source.empty() ? "as described" : sources.mark(limit.source)});
  };
  for (const DemandLimit& limit : result.limits) add(limit, result.compared_amps);
  for (const DemandLimit& limit : result.neutral_limits) {
    add(limit, neutral_amps(result));
  }
  return heading("The service as described") + table.text();
}

std::string loads_section(const DemandResult& result) {
  TextTable table({{"load"}, {"counts as"}, {"says"}, {"VA", Align::Right}, {"counted"}});
  std::size_t general = 0;
  for (const DemandItem& item : result.items) {
    if (item.category == "general") {
      ++general;
      continue;
    }
    const bool not_asked = !item.counted && item.left_out.empty();
    table.add({item.name, item.category, item.category_from, whole(item.va),
               item.counted ? "yes"
               : not_asked  ? "no"
                            : "no: " + item.left_out});
  }
  std::string text = heading("Loads by category");
  if (!table.empty()) text += table.text();
  if (general == 0) return text;
  return text +
         paragraph(fmt::format("{} general and not counted one by one. `demand` on a load says "
                               "otherwise.",
                               general == 1 ? "1 load is" : fmt::format("{} loads are", general)));
}

}  // namespace

std::string_view demand_caution() { return kCaution; }

std::string demand_text(const House& house, const DemandResult& result) {
  SourceList sources;  // numbered as they are met: one statement for each part
  std::string text = title(house, result) + paragraph(rules_sentence(result));
  text += paragraph(answer(result, sources));
  text += paragraph(sizes(result, sources)) + paragraph(room_left(result) + neutral_short(result));
  text += heading("Service, step by step");
  text += steps_table(result.steps, result.unit, sources);
  for (const std::string& note : result.notes) text += paragraph(note);
  text += by_line_section(result, sources);
  text += neutral_section(result, sources);
  text += limits_table(result, sources);
  text += loads_section(result);
  text += heading("Rules and their sources") + source_entries(sources);
  return text + heading("What this is worth") + paragraph(kCaution);
}

}  // namespace evenleg
