#include "src/cli/man_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "evenleg/base/utf8.h"
#include "evenleg/report/cautions.h"
#include "src/cli/build_info.h"
#include "src/cli/exit_status.h"

namespace evenleg {
namespace {

std::string_view troff_name(char letter) {
  switch (letter) {
    case '\\':
      return "\\(rs";
    case '-':
      return "\\-";
    case '\'':
      return "\\(aq";
    case '"':
      return "\\(dq";
    case '`':
      return "\\(ga";
    case '^':
      return "\\(ha";
    case '~':
      return "\\(ti";
    default:
      return "";
  }
}

bool is_example(const std::string& line) {
  return line.find("  ") != std::string::npos;  // indented, or in columns
}

// Prose is filled; from the first line that is indented or in columns to the next empty one, lines
// stay as they are.
std::string paragraphs(const std::string& text) {
  std::string page;
  bool as_is = false;
  const auto turn = [&](bool wanted) {
    if (as_is != wanted) page += wanted ? ".PP\n.nf\n" : ".fi\n.PP\n";
    as_is = wanted;
  };
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty()) {
      page += as_is ? "" : ".PP\n";
      turn(false);
      continue;
    }
    turn(as_is || is_example(line));
    page += troff_text(line) + "\n";
  }
  turn(false);
  return page;
}

std::string section(std::string_view name, const std::string& body) {
  return fmt::format(".SH {}\n{}", name, body);
}

// A line of the help: what is typed, and what it does.
std::string item(const std::string& tag, const std::string& does) {
  return fmt::format(".TP 34\n{}\n{}\n", tag, troff_text(does.empty() ? "-" : does));
}

std::string bold(const std::string& text) { return "\\fB" + troff_text(text) + "\\fR"; }
std::string italic(const std::string& text) { return "\\fI" + troff_text(text) + "\\fR"; }

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

std::string option_item(const OptionEntry& option) {
  std::string tag;
  for (const std::string& name : option.names) tag += (tag.empty() ? "" : ", ") + bold(name);
  if (!option.value.empty()) tag += " " + italic(option.value);
  return item(tag, one_line(option.does));
}

// The items without the space that a .TP leaves above each: lists of keys are long.
std::string close_items(const std::string& items) {
  return items.empty() ? "" : ".PP\n.PD 0\n" + items + ".PD\n";
}

std::string command_part(const CommandEntry& command, const CommandEntry& program) {
  std::string items;
  for (const OptionEntry& word : command.words) {
    items += item(italic(word.names.front()), word.does);
  }
  const auto& common = program.options;
  for (const OptionEntry& option : command.options) {
    if (std::find(common.begin(), common.end(), option) == common.end()) {
      items += option_item(option);
    }
  }
  std::string page =
      fmt::format(".SS {}\n{}\n", troff_text(command.usage), troff_text(command.does)) +
      close_items(items);
  if (!command.footer.empty()) page += ".PP\n" + paragraphs(command.footer);
  for (const CommandEntry& kind : command.commands) page += command_part(kind, program);
  return page;
}

std::string commands_section(const CommandEntry& program) {
  std::string list;
  for (const CommandEntry& command : program.commands) {
    list += item(bold(command.name.substr(program.name.size() + 1)), command.does);
  }
  std::string page = close_items(list);
  for (const CommandEntry& command : program.commands) page += command_part(command, program);
  return section("COMMANDS", page);
}

std::string options_section(const CommandEntry& program) {
  std::string items;
  for (const OptionEntry& option : program.options) items += option_item(option);
  return section("OPTIONS", close_items(items) + ".PP\nEvery command takes " + bold("--help") +
                                " and " + bold("--data") + ".\n");
}

std::string status_section() {
  std::string items;
  for (const ExitStatus& one : kExitStatuses) {
    items += item(bold(std::to_string(one.status)), std::string(one.meaning));
  }
  return section("EXIT STATUS", close_items(items));
}

std::string files_section() {
  return section(
      "FILES",
      "Folders are those below the one that the program was installed in, as /usr.\n" +
          close_items(
              item(italic("share/evenleg"),
                   "The tables, each with its source. The program holds the same and does not read "
                   "these: copy what is to be changed into a folder for --data.") +
              item(italic("share/doc/evenleg/examples"),
                   "Descriptions of three invented houses.")));
}

}  // namespace

std::string troff_text(std::string_view line) {
  constexpr std::uint32_t kEllipsis = 0x2026;  // "…", which not every device has
  std::string text;
  while (!line.empty()) {
    const CodePoint point = first_code_point(line);
    const std::size_t bytes = std::max<std::size_t>(point.bytes, 1);
    const std::string_view name = bytes == 1 ? troff_name(line.front()) : "";
    if (point.code == kEllipsis) {
      text += "...";
    } else if (bytes > 1) {
      text += fmt::format("\\[u{:04X}]", point.code);
    } else if (!name.empty()) {
      text += name;
    } else {
      text += line.front();
    }
    line.remove_prefix(bytes);
  }
  if (text.starts_with('.')) text.insert(0, "\\&");  // else the line would be a request
  return text;
}

std::string man_page(const CommandEntry& program) {
  const BuildInfo& build = build_info();
  return ".\\\" Made from the program's own help.\n" +
         fmt::format(".TH {} 1 \"\" \"{}\" \"User commands\"\n.nh\n.ad l\n",
                     troff_text(program.name), troff_text(program_version())) +
         section("NAME", fmt::format("{} \\- {}\n", troff_text(program.name),
                                     troff_text(build.description))) +
         section("SYNOPSIS", troff_text(program.usage) + "\n") +
         section("DESCRIPTION", paragraphs(program.does) + ".PP\n" + paragraphs(program.footer)) +
         options_section(program) + commands_section(program) + status_section() + files_section() +
         section("CAUTIONS", troff_text(standing_caution()) + "\n");
}

}  // namespace evenleg
