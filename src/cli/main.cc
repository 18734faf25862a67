// The program: reads the command line, runs one command, turns every Error into its lines on
// standard error and its exit status. 0 done; 1 done, and a danger was found (--fail-on-danger); 2
// the request or the description is wrong; 3 a house file cannot be read or written.
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <memory>
#include <new>

#include "evenleg/base/error.h"
#include "src/cli/commands.h"
#include "src/cli/help_text.h"
#include "src/cli/usage.h"

namespace evenleg {
namespace {

constexpr int kWrongRequest = 2;
constexpr int kWrongFile = 3;

int status_of(ErrorKind kind) { return kind == ErrorKind::File ? kWrongFile : kWrongRequest; }

void complain(const Fault& fault) {
  const std::string text = fmt::format("evenleg: {}\n", line(fault));
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void set_up(CLI::App& app, Session& session) {
  app.name("evenleg");
  app.formatter(std::make_shared<HelpText>());
  app.description(
      "How the legs of a dwelling's service are loaded, what each shared neutral carries,\n"
      "and what every outlet would see if a neutral opened.");
  app.footer(
      "Start here:  evenleg demo\n"
      "Then:        evenleg new Fernhill.house --from fernhill.toml\n"
      "             evenleg audit Fernhill.house\n"
      "Help on one: evenleg audit --help\n\n"
      "It never says that a house is safe. The local code, the authority having jurisdiction,\n"
      "the utility and a licensed electrician decide.");
  app.set_help_flag("-h,--help", "show this help");
  app.set_version_flag("--version", kVersion, "show the version");
  app.require_subcommand(0, 1);
  add_data_option(app, session);
  setup_demo(app, session);
  setup_new(app, session);
  setup_export(app, session);
  setup_show(app, session);
  setup_edit(app, session);
  setup_audit(app, session);
  setup_neutral(app, session);
  setup_balance(app, session);
  setup_demand(app, session);
  setup_visit(app, session);
  setup_readings(app, session);
  setup_diagnose(app, session);
  setup_report(app, session);
  setup_check(app, session);
}

// Help and version are answers, not errors.
int show(const CLI::App& app, const CLI::Success& asked) {
  const bool version = dynamic_cast<const CLI::CallForVersion*>(&asked) != nullptr;
  print(version ? std::string(kVersion) + "\n" : app.help());
  return 0;
}

int run(int argc, char** argv) {
  Session session;
  CLI::App app;
  set_up(app, session);
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
