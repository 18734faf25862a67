// The program: reads the command line, runs one command, turns every Error into its lines on
// standard error and its exit status (exit_status.h).
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <new>

#include "evenleg/base/error.h"
#include "src/cli/commands.h"
#include "src/cli/exit_status.h"
#include "src/cli/usage.h"
#include "src/cli/version_text.h"

namespace evenleg {
namespace {

int status_of(ErrorKind kind) { return kind == ErrorKind::File ? kWrongFile : kWrongRequest; }

void complain(const Fault& fault) {
  const std::string text = fmt::format("evenleg: {}\n", line(fault));
  std::fwrite(text.data(), 1, text.size(), stderr);
}

// Help and version are answers, not errors.
int show(const CLI::App& app, const CLI::Success& asked) {
  const bool version = dynamic_cast<const CLI::CallForVersion*>(&asked) != nullptr;
  print(version ? version_text() : app.help());
  return 0;
}

int run(int argc, char** argv) {
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

}  // namespace
}  // namespace evenleg

int main(int argc, char** argv) {
  using evenleg::complain;
  try {
    const int status = evenleg::run(argc, argv);
    if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return status;
    complain({"standard output", "cannot be written", "check the disk, or where it leads"});
    return evenleg::kWrongFile;
  } catch (const std::bad_alloc&) {
    complain({"evenleg", "not enough memory for this house", "close other programs or split it"});
  } catch (const std::exception& fault) {
    complain({"internal fault", fault.what(), "report it with the command and the house"});
  }
  return evenleg::kWrongFile;
}
