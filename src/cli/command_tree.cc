#include "src/cli/command_tree.h"

#include "src/cli/commands.h"
#include "src/cli/help_text.h"

namespace evenleg {
namespace {

Takes kind_of(const std::string& value) {
  if (value.starts_with("FILE") || value == "HOUSE") return Takes::File;
  return value == "FOLDER" || value == "DIR" ? Takes::Folder : Takes::Text;
}

// "evenleg add HOUSE KIND NAME [--option …]" of the help's "Use: …" line.
std::string usage_of(const CLI::App& app) {
  const std::string line = HelpText().make_usage(&app, app.get_name());
  const std::size_t start = line.find(' ') + 1;
  return line.substr(start, line.find_last_not_of('\n') + 1 - start);
}

OptionEntry entry_of(const CLI::Option& option, const Session& session) {
  OptionEntry entry;
  entry.does = option.get_description();
  if (option.get_positional()) {
    entry.names = {option.get_name()};
    entry.takes = kind_of(option.get_name());
    return entry;
  }
  for (const std::string& name : option.get_snames()) entry.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) entry.names.push_back("--" + name);
  if (option.get_type_size() == 0) return entry;
  entry.value = option.get_type_name();
  entry.takes = kind_of(entry.value);
  if (const auto known = session.choices.find(&option); known != session.choices.end()) {
    entry.takes = Takes::Choice;
    entry.choices = known->second();
    entry.list = option.get_delimiter() == ',';
  }
  return entry;
}

CommandEntry entry_of(const CLI::App& app, const Session& session) {
  CommandEntry entry;
  const CLI::App* above = app.get_parent();
  for (const CLI::App* level = &app; level != nullptr; level = level->get_parent()) {
    entry.name = level->get_name() + (entry.name.empty() ? "" : " ") + entry.name;
  }
  entry.usage = usage_of(app);
  entry.does = app.get_description();
  if (above == nullptr || above->get_footer() != app.get_footer()) entry.footer = app.get_footer();
  for (const CLI::Option* option : app.get_options()) {
    (option->get_positional() ? entry.words : entry.options).push_back(entry_of(*option, session));
  }
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    entry.commands.push_back(entry_of(*command, session));
  }
  return entry;
}

}  // namespace

CommandEntry command_tree() {
  Session session;
  CLI::App app;
  set_up_program(app, session);
  return entry_of(app, session);
}

}  // namespace evenleg
