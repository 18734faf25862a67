// Which requests are refused before anything is read of them but their head.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace evenleg {

inline constexpr std::uint64_t kMostBody = 4U << 20U;  // bytes: a pasted schedule is a hundredth

// What of a request's head counts.
struct RequestHead {
  std::string method;
  std::string path;  // decoded, without what follows "?"
  std::string host;
  int hosts = 0;
  std::optional<std::string> origin;
  std::optional<std::string> fetch_site;  // Sec-Fetch-Site, where a browser sends it
  std::string content_type;
  std::string content_length;  // "" where there is none
  int content_lengths = 0;
  std::string transfer_encoding;
  std::string content_encoding;
  bool has_range = false;
};

struct Refusal {
  int status = 0;
  std::string sentence;
};

// Where a path leads below the session's key: "" for the page itself, "app.js", "api/house"; absent
// where the key is missing or another's.
[[nodiscard]] std::optional<std::string> below_key(const std::string& path, const std::string& key);

// `port`: that the server listens on; `key`: of the session. Absent: it may go on.
[[nodiscard]] std::optional<Refusal> refused(const RequestHead& head, int port,
                                             const std::string& key);

}  // namespace evenleg
