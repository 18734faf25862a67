// What the program is, before any command line is read: its name, its help and its commands.
#include <memory>

#include "src/cli/build_info.h"
#include "src/cli/commands.h"
#include "src/cli/help_text.h"

namespace evenleg {

void set_up_program(CLI::App& app, Session& session) {
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
  app.set_version_flag("--version", program_version(),
                       "show the version, the build and the tables' editions");
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
  setup_open(app, session);
}

}  // namespace evenleg
