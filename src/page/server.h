// The page over HTTP on the loopback: who may ask, where everything stands, and what each answer
// carries. It knows nothing of houses: answers come from answers.h.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "evenleg/page/page.h"

namespace evenleg {

class PageServer {
 public:
  // Reads the house and listens; answers from now on. Throws: as serve_page().
  PageServer(const PageOptions& options, const Tables& tables);
  ~PageServer();
  PageServer(const PageServer&) = delete;
  PageServer& operator=(const PageServer&) = delete;

  [[nodiscard]] int port() const;
  // Opens the page once: "http://127.0.0.1:41233/open/0123…".
  [[nodiscard]] std::string address() const;
  void stop();

 private:
  class Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace evenleg
