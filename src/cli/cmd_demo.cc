// `evenleg demo`: the demonstration house as a description and a house file, and its audit.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <sstream>

#include "evenleg/base/files.h"
#include "evenleg/describe/describe.h"
#include "evenleg/record/record.h"
#include "evenleg/store/store.h"
#include "src/cli/audit_text.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/provenance.h"
#include "src/tables/embedded.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kExample = "fernhill-cottage.toml";
constexpr int kHeadLines = 30;  // of the audit: the first screen of a terminal

std::string_view example_text() {
  const auto files = embedded_files();
  const auto found = std::find_if(files.begin(), files.end(),
                                  [](const EmbeddedFile& file) { return file.name == kExample; });
  if (found == files.end()) {
    throw Error(ErrorKind::File, {std::string(kExample), "is not built into this program",
                                  "build it with its data folder"});
  }
  return found->text;
}

void make_folder(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (!error) return;
  throw Error(ErrorKind::File, {folder.string(), "cannot be made: " + error.message(),
                                "name a folder that you may write to"});
}

[[noreturn]] void refuse(const fs::path& file) {
  throw Error(ErrorKind::File, {file.string(), "exists already and is not the demonstration house",
                                "move it away, or name another folder"});
}

struct DemoFiles {
  fs::path description, house, audit, record;
};

// Checks both before it writes either.
void write_houses(const DemoFiles& files, std::string_view text, const House& house) {
  const bool has_description = fs::exists(files.description);
  const bool has_house = fs::exists(files.house);
  if (has_description && read_file(files.description) != text) refuse(files.description);
  if (has_house && !(is_house_file(files.house) && load_house(files.house) == house)) {
    refuse(files.house);
  }
  if (!has_description) write_file(files.description, text);
  if (!has_house) create_house_file(files.house, house);
}

std::string head(const std::string& text) {
  std::istringstream lines(text);
  std::string shown;
  std::string one;
  int count = 0;
  while (count < kHeadLines && std::getline(lines, one)) {
    shown += one + "\n";
    ++count;
  }
  return std::getline(lines, one) ? shown + "  ...\n" : shown;
}

// The house's audit, written beside it; gives its text.
std::string write_audit(const DemoFiles& files, const House& house, const Tables& tables) {
  std::string text = audit_text(house, tables);
  write_file(files.audit, text);
  return text;
}

void write_record(const DemoFiles& files, const House& house, const Tables& tables) {
  RecordOptions options;
  options.provenance = provenance_of(files.house, house);
  write_file(files.record, record_html(make_record(work_out(house, tables, {}), options)));
}

void run_demo(const std::string& folder, const Session& session) {
  const Tables tables = tables_for(session);
  const std::string_view text = example_text();
  const House house = read_description(text, kExample, vocabulary(tables));
  const fs::path dir = folder;
  make_folder(dir);
  const auto in_dir = [&](const char* name) { return (dir / name).lexically_normal(); };
  const DemoFiles files{in_dir("fernhill-cottage.toml"), in_dir("fernhill-cottage.house"),
                        in_dir("fernhill-cottage-audit.txt"),
                        in_dir("fernhill-cottage-record.html")};
  write_houses(files, text, house);
  print(head(write_audit(files, house, tables)));
  write_record(files, house, tables);
  print(
      fmt::format("\nMade here:\n"
                  "  {0}  the house as a person wrote it\n"
                  "  {1}  the same as a house file\n"
                  "  {2}  the whole audit, of which the head is above\n"
                  "  {3}  the electrician's record, with drawings: open it in a browser\n"
                  "Look next:\n"
                  "  evenleg show {1}\n"
                  "  evenleg audit {1}\n"
                  "  evenleg report {1} --for client --out client.html\n",
                  files.description.string(), files.house.string(), files.audit.string(),
                  files.record.string()));
}

}  // namespace

void setup_demo(CLI::App& app, Session& session) {
  auto folder = std::make_shared<std::string>(".");
  CLI::App* command =
      add_command(app, session, "demo", "make the demonstration house and audit it",
                  "evenleg demo try-out\n\n"
                  "Files of yours are never overwritten; audit and record are made anew.");
  command->add_option("DIR", *folder, "the folder to make it in (this one when absent)");
  command->callback([folder, &session] { run_demo(*folder, session); });
}

}  // namespace evenleg
