// Which requests are refused. The rules are ours; HTTP's status codes are those of RFC 9110.
#include "src/page/guard.h"

#include <doctest/doctest.h>

#include "src/page/keys.h"

namespace evenleg {
namespace {

constexpr int kPort = 4000;
const std::string kKey = "00112233445566778899aabbccddeeff";

RequestHead good(const std::string& method = "GET", const std::string& name = "") {
  RequestHead head;
  head.method = method;
  head.path = "/s/" + kKey + "/" + name;
  head.host = "127.0.0.1:4000";
  head.hosts = 1;
  if (method == "POST") {
    head.content_type = "application/json";
    head.content_length = "2";
    head.content_lengths = 1;
    head.origin = "http://127.0.0.1:4000";
  }
  return head;
}

int status_of(const RequestHead& head) {
  const auto refusal = refused(head, kPort, kKey);
  return refusal ? refusal->status : 0;
}

TEST_CASE("the page's own requests go on") {
  CHECK(status_of(good()) == 0);
  CHECK(status_of(good("GET", "app.js")) == 0);
  CHECK(status_of(good("POST", "api/edit")) == 0);
  RequestHead local = good("POST", "api/edit");
  local.host = "localhost:4000";
  local.origin = "http://localhost:4000";
  CHECK(status_of(local) == 0);
  RequestHead opening = good();
  opening.path = "/open/" + kKey;
  CHECK(status_of(opening) == 0);
}

TEST_CASE("without the key nothing is given") {
  for (const char* path :
       {"/", "/index.html", "/api/house", "/s/", "/s//", "/s/x/api/house",
        "/s/00112233445566778899aabbccddeefg/", "/s/00112233445566778899aabbccddeeff",
        "/../s/00112233445566778899aabbccddeeff/", "//s/", "/favicon.ico"}) {
    CAPTURE(path);
    RequestHead head = good();
    head.path = path;
    CHECK(status_of(head) == 403);
  }
}

TEST_CASE("a foreign host, and so a name that someone made to point here, is refused") {
  for (const char* host : {"", "evil.example", "127.0.0.1", "127.0.0.1:4001", "evil.example:4000",
                           "127.0.0.1:4000.evil.example", "[::1]:4000", "0.0.0.0:4000"}) {
    CAPTURE(host);
    RequestHead head = good();
    head.host = host;
    CHECK(status_of(head) == 403);
  }
  RequestHead twice = good();
  twice.hosts = 2;
  CHECK(status_of(twice) == 403);
}

TEST_CASE("a foreign origin is refused") {
  for (const char* origin : {"null", "", "http://evil.example", "https://127.0.0.1:4000",
                             "http://127.0.0.1:4001", "http://127.0.0.1"}) {
    CAPTURE(origin);
    RequestHead head = good("POST", "api/edit");
    head.origin = origin;
    CHECK(status_of(head) == 403);
  }
  RequestHead site = good("GET", "api/house");
  site.fetch_site = "cross-site";
  CHECK(status_of(site) == 403);
  site.fetch_site = "same-site";
  CHECK(status_of(site) == 403);
  site.fetch_site = "same-origin";
  CHECK(status_of(site) == 0);
}

TEST_CASE("bodies that no page sends are refused unread") {
  RequestHead head = good("POST", "api/edit");
  head.content_length = "1073741824";
  CHECK(status_of(head) == 413);
  head.content_length = "99999999999999999999999999";
  CHECK(status_of(head) == 413);
  head.content_length = "-1";
  CHECK(status_of(head) == 400);
  head.content_length = "2; 3";
  CHECK(status_of(head) == 400);
  head.content_length = "2";
  head.transfer_encoding = "chunked";
  CHECK(status_of(head) == 413);
  head.transfer_encoding = "";
  head.content_encoding = "gzip";
  CHECK(status_of(head) == 413);
  head.content_encoding = "";
  head.content_lengths = 2;
  CHECK(status_of(head) == 411);
  head.content_lengths = 0;
  head.content_length = "";
  CHECK(status_of(head) == 411);
  RequestHead type = good("POST", "api/edit");
  type.content_type = "text/plain";
  CHECK(status_of(type) == 415);
  RequestHead get = good();
  get.content_length = "5";
  CHECK(status_of(get) == 413);
}

TEST_CASE("no part of an answer is given, with or without the key") {
  RequestHead head = good();
  head.has_range = true;
  CHECK(status_of(head) == 416);
  head.path = "/";
  CHECK(status_of(head) == 416);
}

TEST_CASE("only GET, HEAD and POST, and POST only for answers") {
  for (const char* method : {"PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT", "get"}) {
    CAPTURE(method);
    CHECK(status_of(good(method)) == 405);
  }
  CHECK(status_of(good("POST", "app.js")) == 405);
  RequestHead opening = good("POST");
  opening.path = "/open/" + kKey;
  CHECK(status_of(opening) == 405);
}

TEST_CASE("a token opens the page once, and keys are long and never the same") {
  Keys keys;
  const std::string token = keys.token();
  CHECK(token.size() == 32);
  CHECK(token != keys.session());
  CHECK_FALSE(keys.use(""));
  CHECK_FALSE(keys.use(keys.session()));
  CHECK(keys.token() == token);
  CHECK(keys.use(token));
  CHECK_FALSE(keys.use(token));
  CHECK(keys.token() != token);
}

}  // namespace
}  // namespace evenleg
