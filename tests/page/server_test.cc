// The server over real sockets: who is answered, who is refused, and where it listens.
#include "src/page/server.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <sys/socket.h>
#include <unistd.h>

#include <fstream>

#include "tests/page/page_house.h"

namespace evenleg {
namespace {

using page_test::HouseFile;
using page_test::tables;

// What comes back for these bytes, until the server closes or `most` bytes are there.
std::string answered(int port, const std::string& request, std::size_t most = 1U << 22U) {
  const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
  REQUIRE(socket >= 0);
  const timeval patience{20, 0};
  setsockopt(socket, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<std::uint16_t>(port));
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  REQUIRE(::connect(socket, reinterpret_cast<sockaddr*>(&to), sizeof to) == 0);
  std::size_t sent = 0;
  while (sent < request.size()) {
    const ssize_t more = ::send(socket, request.data() + sent, request.size() - sent, MSG_NOSIGNAL);
    if (more <= 0) break;
    sent += static_cast<std::size_t>(more);
  }
  std::string all;
  char part[4096];
  while (all.size() < most) {
    const ssize_t more = ::recv(socket, part, sizeof part, 0);
    if (more <= 0) break;
    all.append(part, static_cast<std::size_t>(more));
  }
  ::close(socket);
  return all;
}

class Served {
 public:
  Served() {
    options_.house = file_.path();
    options_.program = "evenleg";
    options_.provenance = [](const House&, const std::string&) { return Provenance{}; };
    options_.make_pdf = [](const std::string&) { return std::string("%PDF"); };
    options_.tell = [this](const std::string& address) { told_ = address; };
    server_ = std::make_unique<PageServer>(options_, tables());
  }

  [[nodiscard]] int port() const { return server_->port(); }
  [[nodiscard]] std::string told() const { return told_; }
  [[nodiscard]] std::string opening() const {
    const std::string address = server_->address();
    return address.substr(address.find("/open/"));
  }

  std::string get(const std::string& path, const std::string& more = "") const {
    return answered(
        port(), fmt::format("GET {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n{}\r\n", path, port(), more));
  }
  // The session's own path, by the token.
  std::string enter() const {
    const std::string reply = get(opening());
    const std::size_t at = reply.find("Location: ");
    REQUIRE(at != std::string::npos);
    return reply.substr(at + 10, reply.find("\r\n", at) - at - 10);
  }

 private:
  HouseFile file_;
  PageOptions options_;
  std::string told_;
  std::unique_ptr<PageServer> server_;
};

bool has_status(const std::string& reply, int status) {
  return reply.starts_with(fmt::format("HTTP/1.1 {} ", status));
}

TEST_CASE("the page is opened once by its token, and stands under its key") {
  const Served served;
  const std::string opening = served.opening();
  const std::string base = served.enter();
  CHECK(has_status(served.get(opening), 403));
  CHECK(served.told().find("/open/") != std::string::npos);
  CHECK(served.told().find(opening) == std::string::npos);
  const std::string page = served.get(base);
  CHECK(has_status(page, 200));
  CHECK(page.find("Content-Security-Policy: default-src 'none'; script-src 'self'") !=
        std::string::npos);
  CHECK(page.find("Referrer-Policy: no-referrer") != std::string::npos);
  CHECK(page.find("<title>evenleg</title>") != std::string::npos);
  CHECK(has_status(served.get(base + "app.js"), 200));
  CHECK(has_status(served.get(base + "api/house"), 200));
}

TEST_CASE("what lacks the key, or comes from elsewhere, is refused") {
  const Served served;
  const std::string base = served.enter();
  for (const char* path :
       {"/", "/index.html", "/app.js", "/api/house", "/s/0/api/house", "/open/0"}) {
    CAPTURE(path);
    CHECK(has_status(served.get(path), 403));
  }
  const auto with_host = [&](const std::string& host) {
    return answered(served.port(),
                    fmt::format("GET {}api/house HTTP/1.1\r\nHost: {}\r\n\r\n", base, host));
  };
  CHECK(has_status(with_host("evil.example"), 403));
  CHECK(has_status(with_host(fmt::format("evil.example:{}", served.port())), 403));
  CHECK(has_status(with_host(fmt::format("127.0.0.1:{}", served.port())), 200));
  CHECK(has_status(served.get(base + "api/house", "Origin: http://evil.example\r\n"), 403));
  CHECK(has_status(served.get(base + "api/house", "Sec-Fetch-Site: cross-site\r\n"), 403));
}

TEST_CASE("no path leads to a file of the machine") {
  const Served served;
  const std::string base = served.enter();
  for (const char* path :
       {"../../../../etc/passwd", "..%2f..%2f..%2fetc/passwd", "%2e%2e/%2e%2e/etc/passwd",
        "....//....//etc/passwd", "/etc/passwd", "app.js%00.html", "app.js/", "api/../app.js",
        "api/", "weir.house", "src/page/web/app.js", "\\..\\..\\etc\\passwd"}) {
    CAPTURE(path);
    const std::string reply = served.get(base + path);
    CHECK_FALSE(has_status(reply, 200));
    CHECK(reply.find("root:") == std::string::npos);
  }
}

TEST_CASE("a range of an answer is refused, and nothing beyond the answer is given") {
  const Served served;
  const std::string base = served.enter();
  constexpr std::size_t kMost = 2000;  // of a refusal with its headers
  for (const char* range :
       {"bytes=0-99999", "bytes=5000-6000", "bytes=0-10,20-90000", "bytes=-99999"}) {
    for (const std::string& path : {std::string("/"), base, base + "api/house", base + "app.js"}) {
      CAPTURE(range);
      CAPTURE(path);
      const std::string reply = served.get(path, fmt::format("Range: {}\r\n", range));
      CHECK(reply.size() < kMost);
      CHECK(reply.find("Weir Lodge") == std::string::npos);
      CHECK_FALSE(has_status(reply, 206));
    }
  }
}

TEST_CASE("a gigabyte is refused unread, and the server goes on") {
  const Served served;
  const std::string base = served.enter();
  const std::string head = fmt::format(
      "POST {}api/edit HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n", base,
      served.port());
  CHECK(has_status(answered(served.port(), head + "Content-Length: 1073741824\r\n\r\n"), 413));
  CHECK(has_status(answered(served.port(), head + "Transfer-Encoding: chunked\r\n\r\n"), 413));
  const std::string packed = head + "Content-Length: 2\r\nContent-Encoding: gzip\r\n\r\n{}";
  CHECK(has_status(answered(served.port(), packed), 413));
  CHECK(has_status(answered(served.port(), head + "\r\n{}"), 411));
  CHECK(has_status(served.get(base + "api/house"), 200));
  CHECK_FALSE(has_status(answered(served.port(), "nonsense\r\n\r\n"), 200));
  CHECK_FALSE(has_status(served.get("/" + std::string(20'000, 'a')), 200));
  CHECK(has_status(served.get(base + "api/house"), 200));
}

// Linux: /proc/net/tcp lists listening sockets (state 0A) with their address in hexadecimal.
TEST_CASE("nothing listens beyond the loopback") {
  const Served served;
  const std::string port = fmt::format(":{:04X} ", served.port());
  int found = 0;
  for (const char* table : {"/proc/net/tcp", "/proc/net/tcp6"}) {
    std::ifstream in(table);
    for (std::string line; std::getline(in, line);) {
      const bool listens = line.find(" 0A ") != std::string::npos;
      const std::size_t at = line.find(port);
      if (!listens || at == std::string::npos || at > 45) continue;
      ++found;
      CHECK(line.find(" 0100007F" + port) != std::string::npos);
    }
  }
  CHECK(found == 1);
}

TEST_CASE("events tell each page of the house") {
  const Served served;
  const std::string base = served.enter();
  const std::string request =
      fmt::format("GET {}api/events HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n\r\n", base, served.port());
  constexpr std::size_t kEnough = 600;  // head and first event
  for (int page = 0; page < 2; ++page) {
    const std::string told = answered(served.port(), request, kEnough);
    CHECK(told.find("text/event-stream") != std::string::npos);
    CHECK(told.find("event: house") != std::string::npos);
  }
}

}  // namespace
}  // namespace evenleg
