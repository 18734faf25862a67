#include "src/describe/parser_guard.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/utf8.h"

namespace evenleg {
namespace {

constexpr std::size_t kFence = 3;  // quotes around a string of several lines

bool is_gap(char c) { return c == ' ' || c == '\t'; }
bool is_line_end(char c) { return c == '\n' || c == '\r'; }
bool is_ascii(char c) { return (c & 0x80) == 0; }

// One pass over the text. `at_` is what comes next; all before `copied_` is in `out_`.
class Guard {
 public:
  explicit Guard(std::string_view text) : text_(text) {}

  Guarded run() {
    while (!done() && !bad_) step();
    if (bad_) return {bad_, ""};
    copy_to(text_.size());
    return {std::nullopt, std::move(out_)};
  }

 private:
  [[nodiscard]] bool done() const { return at_ >= text_.size(); }
  [[nodiscard]] char next() const { return text_[at_]; }
  [[nodiscard]] bool at_fence(char quote) const {
    return text_.substr(at_, kFence) == std::string(kFence, quote);
  }
  template <class Test>
  void skip(Test test) {
    while (!done() && test(next())) ++at_;
  }

  void step() {
    constexpr std::string_view kEndsKey = "\n=,[]{}";
    const char c = next();
    if (c == '"' || c == '\'') return opens_string() ? skip_string(c) : refuse_quote();
    if (c == '#') return skip([](char other) { return other != '\n'; });
    if (!is_ascii(c)) return judge_letter();
    if (kEndsKey.find(c) != std::string_view::npos) dots_ = 0;
    if (c == '.' && ++dots_ >= kMostKeyParts) {
      refuse(at_, fmt::format("a key of more than {} parts", kMostKeyParts),
             "use only the keys of a description");
    }
    ++at_;
  }

  // Outside of strings and comments. A sequence that is not UTF-8 is left for the parser to report.
  void judge_letter() {
    const std::size_t bytes = first_code_point(text_.substr(at_)).bytes;
    if (bytes > 0) {
      refuse(at_, fmt::format("\"{}\" outside of quotes", text_.substr(at_, bytes)),
             "put the whole name or text in quotes");
    }
    at_ += std::max<std::size_t>(1, bytes);
  }

  // The parser looks past a quote in a word, at letters that are then outside of a string.
  [[nodiscard]] bool opens_string() const {
    constexpr std::string_view kBefore = " \t\n=,[{.";
    return at_ == 0 || kBefore.find(text_[at_ - 1]) != std::string_view::npos;
  }
  void refuse_quote() {
    refuse(at_, "a quote in the middle of a word", "put the whole name or text in quotes");
  }

  // A string of one line ends at the line's end at the latest.
  void skip_string(char quote) {
    if (at_fence(quote)) return skip_long_string(quote);
    ++at_;
    while (!done() && next() != quote && next() != '\n') {
      const bool escape = quote == '"' && next() == '\\';
      at_ += escape && at_ + 1 < text_.size() && text_[at_ + 1] != '\n' ? 2U : 1U;
    }
    if (!done()) ++at_;
  }

  void skip_long_string(char quote) {
    at_ += kFence;
    while (!done() && !bad_) {
      if (quote == '"' && next() == '\\') {
        skip_escape();
      } else if (at_fence(quote)) {
        at_ += kFence;
        // One or two quotes may stand right before the closing three.
        for (int extra = 0; extra < 2 && !done() && next() == quote; ++extra) ++at_;
        return;
      } else {
        ++at_;
      }
    }
  }

  // In a string of several lines: an escape, or a backslash that continues the line on a later one.
  void skip_escape() {
    const std::size_t backslash = at_++;
    skip(is_gap);
    const bool continues = !done() && is_line_end(next());
    skip([](char c) { return is_gap(c) || is_line_end(c); });
    if (done()) return;
    const bool escape = at_ == backslash + 1;
    if (is_ascii(next())) {
      if (escape) ++at_;
      return;
    }
    const auto [code, bytes] = first_code_point(text_.substr(at_));
    if (bytes == 0) return;
    if (!continues) {
      return refuse(backslash, "a backslash that escapes nothing", "write it twice: \\\\");
    }
    copy_to(at_);
    out_ += fmt::format("\\U{:08X}", code);
    at_ += bytes;
    copied_ = at_;
  }

  void copy_to(std::size_t end) {
    out_ += text_.substr(copied_, end - copied_);
    copied_ = end;
  }

  void refuse(std::size_t at, std::string what, std::string remedy) {
    if (!bad_) bad_ = BadText{place_at(at), std::move(what), std::move(remedy)};
  }

  [[nodiscard]] Place place_at(std::size_t at) const {
    const std::string_view before = text_.substr(0, at);
    const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
    const auto is_start = [](char c) { return (c & 0xC0) != 0x80; };
    const auto lines = std::ranges::count(before, '\n');
    const auto characters = std::ranges::count_if(before.substr(line_start), is_start);
    return {static_cast<unsigned>(lines) + 1, static_cast<unsigned>(characters) + 1};
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int dots_ = 0;  // in the key at hand
  std::optional<BadText> bad_;
  std::string out_;
  std::size_t copied_ = 0;
};

}  // namespace

Guarded guarded(std::string_view text) { return Guard(text).run(); }

}  // namespace evenleg
