#include "src/cli/commands.h"

namespace evenleg {

void add_data_option(CLI::App& command, Session& session) {
  command.add_option("--data", session.data, "a folder whose tables replace the built-in ones")
      ->type_name("FOLDER");
}

CLI::App* add_command(CLI::App& app, Session& session, const std::string& name,
                      const std::string& does, const std::string& example) {
  CLI::App* command = app.add_subcommand(name, does);
  command->group("Commands");
  command->footer("Example:\n  " + example);
  add_data_option(*command, session);
  return command;
}

}  // namespace evenleg
