#include "src/cli/help_text.h"

namespace evenleg {
namespace {

// Wide enough for the longest key, "--neutral_loss_trip_volts VALUE".
constexpr std::size_t kWordsColumn = 36;

// The words that follow a command's name, as they are to be written: "HOUSE", "[DIR]".
std::string words_after(const CLI::App& app) {
  std::string text;
  for (const CLI::Option* word :
       app.get_options([](const CLI::Option* option) { return option->get_positional(); })) {
    const bool may_be_absent = word->get_name() == "DIR";
    text += may_be_absent ? " [" + word->get_name() + "]" : " " + word->get_name();
  }
  return text;
}

}  // namespace

HelpText::HelpText() {
  label("Positionals", "To fill in");
  column_width(kWordsColumn);
}

std::string HelpText::make_usage(const CLI::App* app, std::string) const {
  std::string text;
  for (const CLI::App* level = app; level != nullptr; level = level->get_parent()) {
    text = " " + level->get_name() + words_after(*level) + text;
  }
  const bool has_more = !app->get_subcommands([](const CLI::App*) { return true; }).empty();
  if (has_more) text += app->get_parent() == nullptr ? " COMMAND …" : " KIND NAME";
  return "Use:" + text + (app->get_parent() == nullptr ? "\n" : " [--option …]\n");
}

std::string HelpText::make_option_opts(const CLI::Option* option) const {
  if (option->get_positional() || option->get_type_size() == 0) return "";
  return " " + option->get_type_name();
}

}  // namespace evenleg
