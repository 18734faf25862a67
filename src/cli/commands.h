// The commands, one file each: cmd_<name>.cc has an options struct, `setup_<name>`, which adds the
// command to the program, and `run_<name>`, which does it. program.cc lists the set-ups.
#pragma once

#include <CLI/CLI.hpp>

#include "src/cli/session.h"

namespace evenleg {

void setup_new(CLI::App& app, Session& session);
void setup_demo(CLI::App& app, Session& session);
void setup_export(CLI::App& app, Session& session);
void setup_show(CLI::App& app, Session& session);
void setup_edit(CLI::App& app, Session& session);  // add, set, remove
void setup_audit(CLI::App& app, Session& session);
void setup_neutral(CLI::App& app, Session& session);
void setup_balance(CLI::App& app, Session& session);
void setup_demand(CLI::App& app, Session& session);
void setup_visit(CLI::App& app, Session& session);
void setup_readings(CLI::App& app, Session& session);
void setup_diagnose(CLI::App& app, Session& session);
void setup_report(CLI::App& app, Session& session);
void setup_check(CLI::App& app, Session& session);
void setup_open(CLI::App& app, Session& session);

// The program's name, what it is, and all of the above. `session` outlives `app`.
void set_up_program(CLI::App& app, Session& session);

// A command with what all share: `--data`, and an example below its help.
CLI::App* add_command(CLI::App& app, Session& session, const std::string& name,
                      const std::string& does, const std::string& example);
void add_data_option(CLI::App& command, Session& session);

}  // namespace evenleg
