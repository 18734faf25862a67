#include "src/cli/run.h"

#include <fmt/format.h>

#include <cstdio>

#include "src/cli/commands.h"
#include "src/cli/exit_status.h"
#include "src/cli/usage.h"
#include "src/cli/version_text.h"

namespace evenleg {
namespace {

int status_of(ErrorKind kind) { return kind == ErrorKind::File ? kWrongFile : kWrongRequest; }

// Help and version are answers, not errors.
int show(const CLI::App& app, const CLI::Success& asked) {
  const bool version = dynamic_cast<const CLI::CallForVersion*>(&asked) != nullptr;
  print(version ? version_text() : app.help());
  return 0;
}

}  // namespace

void complain(const Fault& fault) {
  const std::string text = fmt::format("evenleg: {}\n", line(fault));
  std::fwrite(text.data(), 1, text.size(), stderr);
}

int run(int argc, const char* const* argv) {
  Session session;
  CLI::App app;
  set_up_program(app, session);
  try {
    app.parse(argc, argv);
    if (app.get_subcommands().empty()) {
      complain({"command line", "no command is given", "see `evenleg --help`"});
      return kWrongRequest;
    }
  } catch (const CLI::Success& asked) {
    return show(app, asked);
  } catch (const CLI::ParseError& error) {
    complain(usage_fault(app, error));
    return kWrongRequest;
  } catch (const Error& error) {
    for (const Fault& fault : error.faults()) complain(fault);
    return status_of(error.kind());
  }
  return session.status;
}

}  // namespace evenleg
