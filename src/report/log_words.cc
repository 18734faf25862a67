#include "src/report/log_words.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

constexpr int kMinute = 60;
constexpr int kHour = 3600;
constexpr double kDay = 86400;

}  // namespace

std::string when(const LogResult& log, double seconds) {
  const double day = log.has_clock ? std::floor(seconds / kDay) : 0;
  const auto rest = static_cast<std::int64_t>(seconds - day * kDay);
  const std::string clock = fmt::format(
      "{}:{:02}:{:02}",
      log.has_clock ? fmt::format("{:02}", rest / kHour) : fmt::format("{}", rest / kHour),
      rest / kMinute % kMinute, rest % kMinute);
  if (!log.has_clock) return clock + " from the start";
  const std::chrono::year_month_day date{
      std::chrono::sys_days{std::chrono::days{static_cast<int>(day)}}};
  return fmt::format("{:04}-{:02}-{:02} {}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), clock);
}

std::string long_text(double seconds) {
  constexpr double kShort = 120;
  if (seconds < kShort) return fixed(seconds, 1) + " s";
  const auto minutes = static_cast<std::int64_t>(std::round(seconds / kMinute));
  if (minutes < kMinute) return fmt::format("{} min", minutes);
  return fmt::format("{} h {} min", minutes / kMinute, minutes % kMinute);
}

std::string_view name_of(SwingKind kind) {
  switch (kind) {
    case SwingKind::Apart:
      return "apart";
    case SwingKind::OneLeg:
      return "one leg";
    case SwingKind::Together:
      return "together";
  }
  return "";
}

}  // namespace evenleg
