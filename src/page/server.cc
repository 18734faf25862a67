#include "src/page/server.h"

#include <fmt/format.h>
#include <httplib.h>
#include <sys/socket.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <thread>

#include "evenleg/base/error.h"
#include "src/page/answers.h"
#include "src/page/guard.h"
#include "src/page/keys.h"
#include "src/page/web_files.h"

namespace evenleg {
namespace {

// Threads for answers; each page that is open keeps one for its events.
constexpr std::size_t kThreads = 48;
constexpr int kReadSeconds = 5;                  // for the next bytes of a request to arrive
constexpr std::chrono::milliseconds kLook{400};  // how often other programs' changes are looked for
constexpr int kBeats = 25;  // of those, without news, until a page is told that all is well

// Nothing from elsewhere, nothing inline, in no other page's frame.
constexpr const char* kPolicy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
// A record brings its own style and drawings, and stands in a frame of the page alone.
constexpr const char* kRecordPolicy =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'self'; sandbox";

RequestHead head_of(const httplib::Request& request) {
  RequestHead head;
  head.method = request.method;
  head.path = request.path;
  head.hosts = static_cast<int>(request.get_header_value_count("Host"));
  head.host = request.get_header_value("Host");
  if (request.has_header("Origin")) head.origin = request.get_header_value("Origin");
  if (request.has_header("Sec-Fetch-Site")) {
    head.fetch_site = request.get_header_value("Sec-Fetch-Site");
  }
  head.content_type = request.get_header_value("Content-Type");
  head.content_length = request.get_header_value("Content-Length");
  head.content_lengths = static_cast<int>(request.get_header_value_count("Content-Length"));
  head.content_encoding = request.get_header_value("Content-Encoding");
  head.has_range = request.has_header("Range");
  head.transfer_encoding = request.get_header_value("Transfer-Encoding");
  return head;
}

void set_headers(httplib::Response& response, const char* policy) {
  response.set_header("Content-Security-Policy", policy);
  response.set_header("X-Content-Type-Options", "nosniff");
  response.set_header("Referrer-Policy", "no-referrer");
  response.set_header("Cross-Origin-Resource-Policy", "same-origin");
  response.set_header("Cross-Origin-Opener-Policy", "same-origin");
  response.set_header("Cache-Control", "no-store");
}

// As it is, where set_content() would compress it: nothing here leaves the machine.
void give(httplib::Response& response, std::string text, const std::string& type) {
  const auto kept = std::make_shared<const std::string>(std::move(text));
  if (kept->empty()) return response.set_content("", type);
  response.set_content_provider(
      kept->size(), type, [kept](std::size_t from, std::size_t size, httplib::DataSink& sink) {
        // The library takes a range as it is asked for, unchecked.
        if (from >= kept->size()) return false;
        return sink.write(kept->data() + from, std::min(size, kept->size() - from));
      });
}

// A refusal in words; JSON below api/, as the answers there are. Not by a content provider: it must
// hold for requests that nothing is known of.
void say(httplib::Response& response, int status, const std::string& sentence,
         bool as_json = false) {
  response.status = status;
  set_headers(response, kPolicy);
  const Reply reply = refusal(status, {{"request", sentence, "reload the page"}});
  response.body = as_json ? reply.body : sentence + "\n";
  response.set_header("Content-Type", as_json ? reply.type : "text/plain; charset=utf-8");
}

std::string event_text(const char* name, const nlohmann::ordered_json& data) {
  constexpr auto kReplaced = nlohmann::ordered_json::error_handler_t::replace;
  return fmt::format("event: {}\ndata: {}\n\n", name, data.dump(-1, ' ', false, kReplaced));
}

}  // namespace

class PageServer::Parts {
 public:
  Parts(const PageOptions& given, const Tables& tables)
      : options_(given),
        house_(given.house, tables, news_),
        audit_(house_, news_),
        records_(house_, options_),
        answering_{house_, audit_, records_, options_.program} {
    set_up();
    listen();
  }

  ~Parts() { stop(); }

  [[nodiscard]] int port() const { return port_; }

  [[nodiscard]] std::string address() const {
    return fmt::format("http://127.0.0.1:{}/open/{}", port_, keys_.token());
  }

  void stop() {
    news_.close();
    audit_.stop();
    server_.stop();
    if (thread_.joinable()) thread_.join();
  }

 private:
  void set_up() {
    server_.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
    server_.set_keep_alive_max_count(1);  // a refused body is never read as the next request
    server_.set_read_timeout(kReadSeconds);
    server_.set_write_timeout(kReadSeconds);
    server_.set_payload_max_length(kMostBody);
    server_.set_tcp_nodelay(true);
    // Not the library's own choice, by which two programs could share a port.
    server_.set_socket_options([](socket_t socket) {
      const int yes = 1;
      setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    server_.set_pre_routing_handler([this](const auto& request, auto& response) {
      using Response = httplib::Server::HandlerResponse;
      const auto refusal = refused(head_of(request), port_, keys_.session());
      if (!refusal) return Response::Unhandled;
      say(response, refusal->status, refusal->sentence,
          request.path.find("/api/") != std::string::npos);
      return Response::Handled;
    });
    server_.Get(".*", [this](const auto& request, auto& response) { got(request, response); });
    server_.Post(".*", [this](const auto& request, auto& response) { posted(request, response); });
  }

  void listen() {
    if (options_.port == 0) {
      port_ = server_.bind_to_any_port("127.0.0.1");
    } else if (server_.bind_to_port("127.0.0.1", options_.port)) {
      port_ = options_.port;
    }
    if (port_ <= 0) {
      throw Error(ErrorKind::Request,
                  {"--port", fmt::format("port {} cannot be had", options_.port),
                   "leave it out, or name another that is free"});
    }
    thread_ = std::thread([this] { server_.listen_after_bind(); });
    while (!server_.is_running())
      std::this_thread::yield();  // bound already: nothing else can fail
  }

  void got(const httplib::Request& request, httplib::Response& response) {
    const auto below = below_key(request.path, keys_.session());
    if (!below) return open(request, response);
    if (*below == "api/events") return events(response);
    if (below->starts_with("api/")) return asked(below->substr(4), request, response);
    const std::string name = below->empty() ? "index.html" : *below;
    const auto file = web_file(name);
    if (!file) return say(response, 404, "There is no such file.");
    set_headers(response, kPolicy);
    give(response, std::string(file->text), std::string(type_of(name)));
  }

  void posted(const httplib::Request& request, httplib::Response& response) {
    const auto below = below_key(request.path, keys_.session());
    asked(below->substr(4), request, response);
  }

  // The token is used up, whoever had it; who may go on is told the session's own address.
  void open(const httplib::Request& request, httplib::Response& response) {
    const std::string start = "/open/";
    if (!keys_.use(std::string_view(request.path).substr(start.size()))) {
      return say(response, 403,
                 "This address has been used, or is of another run: open the page by the address "
                 "that evenleg printed last.");
    }
    set_headers(response, kPolicy);
    response.set_redirect(fmt::format("/s/{}/", keys_.session()), 303);
    if (options_.tell) options_.tell(address());
  }

  void asked(const std::string& name, const httplib::Request& request,
             httplib::Response& response) {
    Asked asked{name, request.method == "POST", {}, request.body};
    for (const auto& [key, value] : request.params) asked.parameters[key] = value;
    Reply reply = answer(asked, answering_);
    response.status = reply.status;
    const bool page = reply.type.starts_with("text/html");
    set_headers(response, page ? kRecordPolicy : kPolicy);
    if (!reply.file_name.empty()) {
      response.set_header("Content-Disposition",
                          fmt::format("attachment; filename=\"{}\"", reply.file_name));
    }
    give(response, std::move(reply.body), reply.type);
  }

  // What a page has been told; events go out when there is more.
  struct Told {
    int rung = -1;
    int revision = -1;
    std::string audit;
    int quiet = 0;
  };

  void events(httplib::Response& response) {
    set_headers(response, kPolicy);
    auto told = std::make_shared<Told>();
    response.set_chunked_content_provider(
        "text/event-stream", [this, told](std::size_t, httplib::DataSink& sink) {
          try {  // nothing above this catches
            if (news_.closed()) return false;
            told->rung = news_.wait(told->rung, kLook);
            const std::string text = news_for(*told);
            return text.empty() || sink.write(text.data(), text.size());
          } catch (const std::exception&) {
            return false;  // the page asks again
          }
        });
  }

  std::string news_for(Told& told) {
    std::string text;
    try {
      const int revision = house_.now().revision;
      if (revision != told.revision) text += event_text("house", {{"revision", revision}});
      told.revision = revision;
    } catch (const Error&) {
      // The file cannot be read at the moment; an answer that needs it says so.
    }
    const AuditProgress progress = audit_.now();
    const std::string audit = event_text("audit", {{"revision", progress.revision},
                                                   {"state", progress.state},
                                                   {"doing", progress.doing},
                                                   {"done", progress.done},
                                                   {"all", progress.all}});
    if (audit != told.audit) text += audit;
    told.audit = audit;
    told.quiet = text.empty() ? told.quiet + 1 : 0;
    if (told.quiet >= kBeats) {  // a page that is gone is noticed by it
      told.quiet = 0;
      return ": \n\n";
    }
    return text;
  }

  PageOptions options_;
  News news_;
  OpenHouse house_;
  BackgroundAudit audit_;
  RecordAnswers records_;
  Answering answering_;
  Keys keys_;
  httplib::Server server_;
  std::thread thread_;
  int port_ = 0;
};

PageServer::PageServer(const PageOptions& options, const Tables& tables)
    : parts_(std::make_unique<Parts>(options, tables)) {}
PageServer::~PageServer() = default;
int PageServer::port() const { return parts_->port(); }
std::string PageServer::address() const { return parts_->address(); }
void PageServer::stop() { parts_->stop(); }

}  // namespace evenleg
