// `evenleg open`: the house on a page in the browser, served to this machine only.
#include <fmt/format.h>

#include <cstdio>
#include <memory>
#include <mutex>
#include <nlohmann/json.hpp>

#include "evenleg/base/error.h"
#include "evenleg/page/page.h"
#include "src/cli/build_info.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/make_pdf.h"
#include "src/cli/open_browser.h"
#include "src/cli/provenance.h"

namespace evenleg {
namespace {

struct OpenCommand {
  std::string house;
  int port = 0;
  bool no_browser = false;
  bool json = false;
};

// The first address goes to the browser, too; each further one replaces one that has been used.
class Addresses {
 public:
  explicit Addresses(const OpenCommand& command) : command_(command) {}

  // Called by whichever thread has given an address away.
  void tell(const std::string& address) {
    const std::scoped_lock lock(lock_);
    const bool first = !told_;
    told_ = true;
    if (command_.json) {
      print_json({{"format", kAnswerFormat}, {"file", command_.house}, {"address", address}});
    } else if (first) {
      print(
          fmt::format("{}: open on this machine only, at\n  {}\nCtrl+C ends it; what was entered "
                      "is in the house file.\n",
                      command_.house, address));
    } else {
      print(fmt::format("That address is used up. For another window:\n  {}\n", address));
    }
    std::fflush(stdout);
    if (first && !command_.no_browser) open_browser(address);
  }

 private:
  const OpenCommand& command_;
  std::mutex lock_;
  bool told_ = false;
};

void run_open(const OpenCommand& command, const Session& session) {
  const Tables tables = tables_for(session);
  Addresses addresses(command);
  PageOptions options;
  options.house = command.house;
  options.port = command.port;
  options.program = program_version();
  options.provenance = [&](const House& house, const std::string& date) {
    return provenance_of(command.house, house, date);
  };
  options.make_pdf = [](const std::string& html) {
    if (!has_pdf_renderer()) {
      throw Error(ErrorKind::Request,
                  {"PDF", "is made by the program weasyprint, which is not installed",
                   "install it (Debian: apt install weasyprint), or save the page and print it"});
    }
    return make_pdf(html, "record.pdf");
  };
  options.tell = [&](const std::string& address) { addresses.tell(address); };
  serve_page(options, tables);
}

}  // namespace

void setup_open(CLI::App& app, Session& session) {
  auto command = std::make_shared<OpenCommand>();
  CLI::App* sub = add_command(
      app, session, "open", "the house on a page in the browser",
      "evenleg open Fernhill.house\n"
      "  evenleg open Fernhill.house --no-browser --port 8090\n\n"
      "The page is served to this machine only, on 127.0.0.1. The address that is printed opens "
      "it\n"
      "once; another is printed then, for another window. Every edit is saved at once, undo and "
      "redo\n"
      "are on the page, and a page that is open sees what others and other commands change.");
  sub->add_option("HOUSE", command->house, "the house file")->required();
  constexpr int kMostPort = 65535;
  sub->add_option("--port", command->port, "the port of 127.0.0.1; any that is free when absent")
      ->check(CLI::Range(1, kMostPort))
      ->type_name("PORT");
  sub->add_flag("--no-browser", command->no_browser, "open no browser, only print the address");
  sub->add_flag("--json", command->json, "print each address as JSON");
  sub->callback([command, &session] { run_open(*command, session); });
}

}  // namespace evenleg
