#include "src/cli/read_log.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <vector>

#include "evenleg/base/error.h"
#include "src/cli/progress_line.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kPiece = 1U << 20U;
constexpr int kPiecesBetweenProgress = 8;

struct Close {
  void operator()(std::FILE* file) const {
    if (file != stdin) std::fclose(file);
  }
};

[[noreturn]] void fail(const std::string& path, int code) {
  throw Error(ErrorKind::File, {path, fmt::format("cannot be read: {}", std::strerror(code)),
                                "check the name and its permissions"});
}

std::unique_ptr<std::FILE, Close> open(const std::string& path) {
  if (path == "-") return std::unique_ptr<std::FILE, Close>(stdin);
  std::error_code ignored;
  if (fs::is_directory(path, ignored)) fail(path, EISDIR);
  std::unique_ptr<std::FILE, Close> file(std::fopen(path.c_str(), "rb"));
  if (file == nullptr) fail(path, errno);
  return file;
}

}  // namespace

const std::vector<std::string>& day_order_names() {
  static const std::vector<std::string> kNames{"day-first", "month-first"};
  return kNames;
}

DayOrder day_order(const std::string& dates) {
  if (dates.empty()) return DayOrder::Unknown;
  return dates == day_order_names().front() ? DayOrder::DayFirst : DayOrder::MonthFirst;
}

LogResult read_log(const std::string& path, const House& house, const Tables& tables,
                   DayOrder dates) {
  LogOptions options;
  options.name = path == "-" ? "standard input" : path;
  options.dates = dates;
  options.flicker = tables.flicker;
  const Vocabulary words = vocabulary(tables);
  options.system = *find_system(words, house.supply.system);
  if (options.system.legs.size() < 2) {
    throw Error(ErrorKind::Request,
                {"--log", "the supply has one leg, and a log of two is asked for",
                 "correct the supply's system"});
  }
  const auto file = open(path);
  std::error_code unknown;
  const auto size = path == "-" ? 0 : fs::file_size(path, unknown);
  LogAnalyzer analyzer(options);
  ProgressLine progress;
  std::vector<char> piece(kPiece);
  std::uintmax_t read = 0;
  for (int n = 0;; ++n) {
    const std::size_t got = std::fread(piece.data(), 1, piece.size(), file.get());
    if (got == 0) break;
    analyzer.feed({piece.data(), got});
    read += got;
    if (n % kPiecesBetweenProgress != 0) continue;
    constexpr std::uintmax_t kMega = 1000000, kPercent = 100;
    progress.write(size > 0 && !unknown ? fmt::format("reading the log: {} % of {} MB",
                                                      read * kPercent / size, size / kMega)
                                        : fmt::format("reading the log: {} MB", read / kMega));
  }
  if (std::ferror(file.get()) != 0) fail(path, errno);
  return analyzer.finish();
}

}  // namespace evenleg
