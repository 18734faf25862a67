#include "src/diagnose/log_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>

#include "evenleg/base/error.h"

namespace evenleg {
namespace {

constexpr std::size_t kLongestLine = 65536;
constexpr std::int64_t kHeadingWithin = 100;  // lines: what recorders write above it
constexpr double kMostVolts = 1000;           // a dwelling's; above it a column is something else
constexpr double kMostAmps = 10000;
constexpr double kDaylightSaving = 2 * 3600 + 60;  // and the step

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\r')) text.remove_suffix(1);
  return text;
}

bool has(const std::vector<LogField>& fields, LogField field) {
  return std::find(fields.begin(), fields.end(), field) != fields.end();
}

std::string what_lacks(const std::vector<LogField>& fields) {
  if (!has(fields, LogField::L1Volts)) return "no column of the volts of L1";
  if (!has(fields, LogField::L2Volts)) return "no column of the volts of L2";
  return "no column of times";
}

std::ptrdiff_t known(const std::vector<LogField>& fields) {
  return std::count_if(fields.begin(), fields.end(),
                       [](LogField field) { return field != LogField::Ignored; });
}

}  // namespace

bool LogRows::has_amps() const {
  return columns_.has(LogField::L1Amps) && columns_.has(LogField::L2Amps);
}

void LogRows::feed(std::string_view bytes) {
  while (!bytes.empty()) {
    const auto* end = static_cast<const char*>(std::memchr(bytes.data(), '\n', bytes.size()));
    if (end == nullptr) {
      too_long_ = too_long_ || carry_.size() + bytes.size() > kLongestLine;
      if (!too_long_) carry_.append(bytes);
      return;
    }
    const auto length = static_cast<std::size_t>(end - bytes.data());
    if (carry_.empty() && !too_long_) {
      line(length > kLongestLine ? std::string_view() : bytes.substr(0, length));
    } else {
      too_long_ = too_long_ || carry_.size() + length > kLongestLine;
      if (!too_long_) carry_.append(bytes.substr(0, length));
      line(too_long_ ? std::string_view() : std::string_view(carry_));
      carry_.clear();
      too_long_ = false;
    }
    bytes.remove_prefix(length + 1);
  }
}

void LogRows::finish() {
  if (too_long_ || !carry_.empty()) line(too_long_ ? std::string_view() : carry_);
  carry_.clear();
  too_long_ = false;
  if (!headed_) {
    throw Error(ErrorKind::Request, {name_, lines_ == 0 ? "the log is empty" : what_lacks(nearest_),
                                     "head its columns, as in \"time,L1 V,L2 V,L1 A,L2 A\""});
  }
  if (counts_.rows == 0) {
    throw Error(ErrorKind::Request,
                {name_,
                 counts_.bad_rows == 0
                     ? "the log has a heading and no rows"
                     : fmt::format("none of its {} rows can be used; line {}: {}", counts_.bad_rows,
                                   counts_.first_bad_line, counts_.first_bad_why),
                 "record a time and the volts of both legs in each row"});
  }
}

void LogRows::line(std::string_view text) {
  ++lines_;
  constexpr std::string_view kMark = "\xEF\xBB\xBF";  // byte order mark
  if (lines_ == 1 && text.starts_with(kMark)) text.remove_prefix(kMark.size());
  if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
  if (!headed_) return heading(text);
  if (text.empty() || text.front() == '#') return;
  row(text);
}

void LogRows::heading(std::string_view text) {
  if (auto columns = columns_of_heading(text)) {
    columns_ = std::move(*columns);
    headed_ = true;
    return;
  }
  std::vector<LogField> fields = fields_in(text);
  if (known(fields) > known(nearest_)) nearest_ = std::move(fields);
  if (lines_ < kHeadingWithin) return;
  throw Error(ErrorKind::Request,
              {name_, fmt::format("{} in the first {} lines", what_lacks(nearest_), lines_),
               "head its columns, as in \"time,L1 V,L2 V,L1 A,L2 A\""});
}

void LogRows::bad(const char* why) {
  if (counts_.bad_rows++ > 0) return;
  counts_.first_bad_line = lines_;
  counts_.first_bad_why = why;
}

bool LogRows::number(std::string_view text, double& value) {
  text = trimmed(text);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  constexpr std::size_t kLongest = 40;
  char buffer[kLongest];
  if (columns_.separator == ';' && text.size() < kLongest) {  // 118,9
    const auto comma = text.find(',');
    if (comma != std::string_view::npos) {
      std::copy(text.begin(), text.end(), buffer);
      buffer[comma] = '.';
      text = std::string_view(buffer, text.size());
    }
  }
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  return fault == std::errc() && end == text.data() + text.size() && std::isfinite(value);
}

bool LogRows::in_order(const Stamp& stamp, Sample& sample) {
  sample.clock = stamp.seconds;
  double order = stamp.seconds - stamp.offset.value_or(0);
  if (stamp.offset) {
    constexpr std::size_t kMostZones = 64;
    if (counts_.zones.size() < kMostZones) counts_.zones.insert(*stamp.offset);
  } else {
    order += added_;
  }
  if (counts_.rows > 0 && order < last_order_) {
    if (stamp.offset || last_order_ - order > kDaylightSaving) return false;
    if (counts_.clock_back++ == 0) counts_.clock_back_at = stamp.seconds;
    added_ += last_order_ - order;
    order = last_order_;
  }
  last_order_ = order;
  sample.order = order;
  return true;
}

void LogRows::row(std::string_view text) {
  split_fields(text, columns_.separator, fields_, unquoted_);
  Sample sample;
  sample.amps = {std::nan(""), std::nan("")};
  std::string_view time, date;
  bool volts_read[2] = {false, false};
  const std::size_t count = std::min(fields_.size(), columns_.fields.size());
  for (std::size_t i = 0; i < count; ++i) {
    switch (columns_.fields[i]) {
      case LogField::Ignored:
        break;
      case LogField::Time:
        time = trimmed(fields_[i]);
        break;
      case LogField::Date:
        date = trimmed(fields_[i]);
        break;
      case LogField::L1Volts:
        volts_read[0] = number(fields_[i], sample.volts[0]);
        break;
      case LogField::L2Volts:
        volts_read[1] = number(fields_[i], sample.volts[1]);
        break;
      case LogField::L1Amps:
        if (!number(fields_[i], sample.amps[0])) sample.amps[0] = std::nan("");
        break;
      case LogField::L2Amps:
        if (!number(fields_[i], sample.amps[1])) sample.amps[1] = std::nan("");
        break;
    }
  }
  if (!volts_read[0] || !volts_read[1]) return bad("not the volts of both legs");
  for (const double volts : sample.volts) {
    if (volts < 0 || volts > kMostVolts) return bad("volts that no dwelling has");
  }
  for (double& amps : sample.amps) {
    if (std::abs(amps) > kMostAmps) amps = std::nan("");
  }
  if (!date.empty()) {
    joined_.assign(date);
    if (!time.empty()) joined_.append(" ").append(time);
    time = joined_;
  }
  const StampResult stamp = read_stamp(time, stamps_);
  if (stamp.fault == StampFault::OrderUnknown) {
    throw Error(ErrorKind::Request,
                {fmt::format("{}:{}", name_, lines_),
                 fmt::format("the date \"{}\" can be read with the day or the month first", time),
                 "add --log-dates day-first or --log-dates month-first"});
  }
  if (stamp.fault != StampFault::None) return bad("no time that can be read");
  if (counts_.rows == 0) counts_.has_clock = stamp.stamp.has_clock;
  if (!in_order(stamp.stamp, sample)) return bad("a time before the row above it");
  ++counts_.rows;
  take_(sample);
}

}  // namespace evenleg
