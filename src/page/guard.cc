#include "src/page/guard.h"

#include <fmt/format.h>

#include <charconv>

#include "src/page/keys.h"

namespace evenleg {
namespace {

constexpr int kBadRequest = 400;
constexpr int kForbidden = 403;
constexpr int kWrongMethod = 405;
constexpr int kNoLength = 411;
constexpr int kTooLarge = 413;
constexpr int kWrongType = 415;
constexpr int kNoRange = 416;

std::optional<Refusal> refused_body(const RequestHead& head) {
  if (!head.transfer_encoding.empty() || !head.content_encoding.empty()) {
    return Refusal{kTooLarge, "The page sends no body in parts and none that is packed."};
  }
  if (head.content_lengths != 1) {
    return Refusal{kNoLength, "The page sends every body with its length."};
  }
  std::uint64_t length = 0;
  const char* end = head.content_length.data() + head.content_length.size();
  const auto [stop, error] = std::from_chars(head.content_length.data(), end, length);
  if (stop != end || error == std::errc::invalid_argument) {
    return Refusal{kBadRequest, "The length of the body is no number."};
  }
  if (error != std::errc{} || length > kMostBody) {
    return Refusal{kTooLarge, "The body is larger than any that the page sends."};
  }
  if (!head.content_type.starts_with("application/json")) {
    return Refusal{kWrongType, "Only JSON is taken."};
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::string> below_key(const std::string& path, const std::string& key) {
  const std::string start = "/s/";
  if (!path.starts_with(start)) return std::nullopt;
  const std::size_t end = path.find('/', start.size());
  if (end == std::string::npos) return std::nullopt;
  if (!same_key(std::string_view(path).substr(start.size(), end - start.size()), key)) {
    return std::nullopt;
  }
  return path.substr(end + 1);
}

std::optional<Refusal> refused(const RequestHead& head, int port, const std::string& key) {
  const std::string loopback = fmt::format("127.0.0.1:{}", port);
  const std::string local = fmt::format("localhost:{}", port);
  if (head.hosts != 1 || (head.host != loopback && head.host != local)) {
    return Refusal{kForbidden, "The request is for another host."};
  }
  if (head.origin && *head.origin != "http://" + head.host) {
    return Refusal{kForbidden, "The request comes from another page."};
  }
  if (head.has_range) return Refusal{kNoRange, "Everything here is given whole."};
  const bool post = head.method == "POST";
  if (!post && head.method != "GET" && head.method != "HEAD") {
    return Refusal{kWrongMethod, "The page asks with GET and POST only."};
  }
  const auto below = below_key(head.path, key);
  if (!below && !head.path.starts_with("/open/")) {
    return Refusal{kForbidden,
                   "The address lacks the key of this session: open the page by the address that "
                   "evenleg printed last."};
  }
  if (!below)
    return post ? std::optional(Refusal{kWrongMethod, "The page is opened with GET."})
                : std::nullopt;
  const bool asks = below->starts_with("api/");
  if (asks && head.fetch_site && *head.fetch_site != "same-origin" && *head.fetch_site != "none") {
    return Refusal{kForbidden, "The request comes from another site."};
  }
  if (!post) {
    const bool body = !head.content_length.empty() && head.content_length != "0";
    if (body || !head.transfer_encoding.empty()) return Refusal{kTooLarge, "GET has no body here."};
    return std::nullopt;
  }
  if (!asks) return Refusal{kWrongMethod, "Only answers below api/ take POST."};
  return refused_body(head);
}

}  // namespace evenleg
