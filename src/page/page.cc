#include "evenleg/page/page.h"

#include <csignal>
#include <cstdio>
#include <cstdlib>

#include "src/page/server.h"

namespace evenleg {

void serve_page(const PageOptions& options, const Tables& tables) {
  // Blocked before any thread begins: all of them then leave these to sigwait() below.
  sigset_t ends;
  sigemptyset(&ends);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ends, signal);
  pthread_sigmask(SIG_BLOCK, &ends, nullptr);
  PageServer server(options, tables);
  options.tell(server.address());
  int signal = 0;
  sigwait(&ends, &signal);
  // An audit that still runs may need seconds to notice. Nothing of it is kept, and every edit that
  // was answered is in the house file.
  std::fflush(nullptr);
  std::quick_exit(EXIT_SUCCESS);
}

}  // namespace evenleg
