#include "tests/diagnose/log_text_of.h"

#include <fmt/format.h>

#include "evenleg/tables/tables.h"
#include "tests/diagnose/visit_house.h"

namespace evenleg {

std::string written_log(const LogRecipe& recipe) {
  Dice dice(recipe.seed);
  std::string text = "time,L1 V,L2 V,L1 A,L2 A\n";
  double source = 121, kettle = 0, toaster = 0;
  for (int k = 0; k < recipe.samples; ++k) {
    source += 0.01 * normal(dice) + 0.001 * (121 - source);
    if (dice.chance(0.02)) kettle = kettle == 0 && dice.chance(0.5) ? 12.5 : 0;
    if (dice.chance(0.02)) toaster = toaster == 0 && dice.chance(0.5) ? 7.5 : 0;
    const double one = 5 + kettle;
    const double two = 4 + toaster;
    const double v1 = source - recipe.r1 * one - recipe.rn * (one - two);
    const double v2 = source - recipe.r2 * two - recipe.rn * (two - one);
    const int seconds = static_cast<int>(k * recipe.step);
    text +=
        fmt::format("2026-03-{:02}T{:02}:{:02}:{:02},{:.2f},{:.2f},{:.2f},{:.2f}\n",
                    14 + (seconds + 21600) / 86400, (seconds + 21600) / 3600 % 24,
                    seconds / 60 % 60, seconds % 60, v1 + recipe.noise_volts * normal(dice),
                    v2 + recipe.noise_volts * normal(dice), one + recipe.noise_amps * normal(dice),
                    two + recipe.noise_amps * normal(dice));
  }
  return text;
}

LogResult analysed(std::string_view text, std::size_t piece, const std::string& system,
                   DayOrder dates) {
  static const Tables tables = load_tables();
  LogOptions options;
  options.name = "log.csv";
  options.flicker = tables.flicker;
  options.dates = dates;
  const Vocabulary words = vocabulary(tables);
  options.system = *find_system(words, system);
  LogAnalyzer analyzer(options);
  if (piece == 0) piece = text.size() + 1;
  for (std::size_t at = 0; at < text.size(); at += piece) analyzer.feed(text.substr(at, piece));
  return analyzer.finish();
}

}  // namespace evenleg
