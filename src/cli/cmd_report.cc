// `evenleg report`: the written record, by the file's ending: html, pdf, md, csv, xlsx, json, txt,
// or one of its drawings as svg.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/base/files.h"
#include "evenleg/base/format.h"
#include "evenleg/record/record.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/make_pdf.h"
#include "src/cli/progress_line.h"
#include "src/cli/provenance.h"
#include "src/cli/read_log.h"

namespace evenleg {
namespace {

const std::vector<std::string> kPapers{"letter", "a4"};

struct ReportCommand {
  std::string house;
  std::string out;
  std::string reader = "electrician";
  std::vector<std::string> sections;
  std::string drawing;
  std::string place;
  std::string log;
  std::string dates;
  std::string date;
  std::string paper;
  std::optional<int> plan;
  bool no_proof = false;
  bool json = false;
};

std::string in_small_letters(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return text;
}

// "html" of record.HTML.
std::string ending_of(const std::string& out) {
  const std::string ending = std::filesystem::path(out).extension().string();
  return ending.empty() ? "" : in_small_letters(ending.substr(1));
}

void check_out(const ReportCommand& command) {
  static const std::vector<std::string> kEndings{"html", "pdf",  "md",  "csv",
                                                 "xlsx", "json", "txt", "svg"};
  const std::string& out = command.out;
  if (out.empty() || out == "-") return;
  const std::string instead = "name another file for the report, as report.html";
  std::error_code ignored;
  if (std::filesystem::equivalent(out, command.house, ignored)) {
    throw Error(ErrorKind::Request, {out, "is the house that is read, and would be lost", instead});
  }
  require_no_house_file(out, instead);
  if (std::count(kEndings.begin(), kEndings.end(), ending_of(out)) == 0) {
    throw Error(ErrorKind::Request,
                {out, "its ending names no form of a report",
                 "end it in ." + fmt::format("{}", fmt::join(kEndings, ", ."))});
  }
}

Job worked_out(const ReportCommand& command, const House& house, const Tables& tables) {
  ProgressLine line;
  JobOptions options;
  options.certify = !command.no_proof;
  options.plan = command.plan;
  if (!command.log.empty()) {
    options.log = read_log(command.log, house, tables, day_order(command.dates));
    options.log_name = std::filesystem::path(command.log).filename().string();
  }
  options.progress = progress_on(line);
  return work_out(house, tables, options);
}

// Letter where the trade's legs are of 120 V, else A4.
std::string paper_of(const ReportCommand& command, const House& house) {
  if (!command.paper.empty()) return command.paper;
  return house.supply.system.starts_with("120/") ? "letter" : "a4";
}

std::string drawing_of(const Record& record, const ReportCommand& command) {
  std::vector<std::string> names;
  for (const Section& section : record.sections) {
    for (const Block& block : section.blocks) {
      const auto* drawing = std::get_if<Drawing>(&block);
      if (drawing == nullptr) continue;
      if (drawing->name == command.drawing) return drawing->svg;
      names.push_back(drawing->name);
    }
  }
  throw Error(
      ErrorKind::Request,
      {"--drawing",
       command.drawing.empty() ? "an svg file holds one drawing, and none is named"
                               : fmt::format("this report has no drawing \"{}\"", command.drawing),
       names.empty() ? "choose --for or --sections with drawings" : "choose " + listed(names)});
}

bool holds_table(const Record& record) {
  for (const Section& section : record.sections) {
    for (const Block& block : section.blocks) {
      if (std::holds_alternative<Sheet>(block)) return true;
    }
  }
  return false;
}

std::string in_form(const Record& record, const ReportCommand& command, const House& house) {
  const std::string ending = command.out == "-" ? "txt" : ending_of(command.out);
  if (ending == "html") return record_html(record, command.paper);
  if (ending == "pdf") {
    ProgressLine line;
    line.write("laying out the pages");
    return make_pdf(record_html(record, paper_of(command, house)), command.out);
  }
  if (ending == "md") return record_markdown(record);
  if (ending == "csv") return record_csv(record);
  if (ending == "xlsx") return record_xlsx(record);
  if (ending == "json") return record_json(record);
  if (ending == "svg") return drawing_of(record, command);
  return record_text(record);
}

Reader reader_of(const ReportCommand& command) {
  if (const auto reader = reader_named(command.reader)) return *reader;
  throw Error(ErrorKind::Request,
              {"--for", fmt::format("no reader is called \"{}\"", command.reader),
               "choose electrician, inspector, contractor, client or event"});
}

// What is given must be of use: nothing asked for is passed over in silence.
void check_together(const ReportCommand& command) {
  const auto refuse = [](const char* option, const char* what, const char* remedy) {
    throw Error(ErrorKind::Request, {option, what, remedy});
  };
  if (!command.drawing.empty() && ending_of(command.out) != "svg") {
    refuse("--drawing", "a drawing alone goes into an svg file", "give --out FILE.svg");
  }
  const bool of_event = command.reader == "event" || !command.sections.empty();
  if (!command.place.empty() && !of_event) {
    refuse("--place", "this report takes no neutral to have opened", "add --for event");
  }
  if (!command.dates.empty() && command.log.empty()) {
    refuse("--log-dates", "there is no log to read", "add --log FILE.csv");
  }
  const bool known = std::count(kPapers.begin(), kPapers.end(), command.paper) > 0;
  if (!command.paper.empty() && !known) {
    refuse("--paper", "no such size of paper", "choose letter or a4");
  }
}

// Spaces about names are of the typing, not of the name.
std::vector<std::string> sections_of(const ReportCommand& command) {
  std::vector<std::string> names;
  for (const std::string& given : command.sections) {
    const std::size_t from = given.find_first_not_of(' ');
    if (from == std::string::npos) continue;
    names.push_back(given.substr(from, given.find_last_not_of(' ') - from + 1));
  }
  return names;
}

void check_date(const std::string& date) {
  if (date.empty() || is_day(date)) return;
  throw Error(ErrorKind::Request,
              {"--date", fmt::format("\"{}\" is no date", date), "write it as 2026-03-15"});
}

void run_report(ReportCommand command, const Session& session) {
  command.paper = in_small_letters(command.paper);
  check_out(command);
  check_date(command.date);
  check_together(command);
  const Tables tables = tables_for(session);
  const House house = read_house(command.house, vocabulary(tables));
  RecordOptions options;
  options.reader = reader_of(command);
  options.sections = sections_of(command);
  const std::string ending = ending_of(command.out);
  options.all_sheets = ending == "csv" || ending == "xlsx";
  if (!command.place.empty()) options.place = command.place;
  options.provenance = provenance_of(command.house, house, command.date);
  check_sections(options);
  const Record record = make_record(worked_out(command, house, tables), options);
  if (command.out.empty() || command.out == "-") {
    const bool json = command.json;
    return print(std::string_view(json ? record_json(record) : record_text(record)));
  }
  const bool spreadsheet = options.all_sheets;
  if (spreadsheet && !holds_table(record)) {
    throw Error(ErrorKind::Request, {"--sections", "none of these sections has a table",
                                     "choose others, or a form for prose, as record.html"});
  }
  write_file(command.out, in_form(record, command, house));
  if (command.json) {
    return print_json({{"format", kAnswerFormat}, {"file", command.out}, {"for", command.reader}});
  }
  print(fmt::format("{}: written, {} of {}\n", command.out, record.title, record.house));
}

std::string help_on_sections() {
  std::string text =
      "evenleg report Fernhill.house --out record.html\n"
      "  evenleg report Fernhill.house --for client --out client.pdf\n"
      "  evenleg report Fernhill.house --out sheets.xlsx\n"
      "  evenleg report Fernhill.house --for inspector --sections observations\n\n"
      "Without --out the text is printed. Where an open neutral would endanger something, the\n"
      "safety block stands first in every form, whatever is asked for. Sections:\n";
  for (const SectionName& one : section_names()) {
    text += fmt::format("  {:<20} {}\n", one.id, one.title);
  }
  text.pop_back();
  return text;
}

std::vector<std::string> reader_names() {
  std::vector<std::string> names;
  for (const Reader reader : {Reader::Electrician, Reader::Inspector, Reader::Contractor,
                              Reader::Client, Reader::Event}) {
    names.emplace_back(name_of(reader));
  }
  return names;
}

std::vector<std::string> section_ids() {
  std::vector<std::string> ids;
  for (const SectionName& one : section_names()) ids.emplace_back(one.id);
  return ids;
}

void add_options(CLI::App& sub, Session& session, const std::shared_ptr<ReportCommand>& command) {
  sub.add_option("HOUSE", command->house, "a house file or a description")->required();
  sub.add_option("--out", command->out,
                 "the file; its ending says the form: html, pdf, md, csv, xlsx, json, txt, svg")
      ->type_name("FILE");
  const auto* reader =
      sub.add_option("--for", command->reader,
                     "who reads it: electrician (when absent), inspector, contractor, client, or\n"
                     "event, after a neutral opened")
          ->type_name("READER");
  session.choices[reader] = reader_names;
  const auto* sections = sub.add_option("--sections", command->sections,
                                        "these sections, in this order, with commas between")
                             ->delimiter(',')
                             ->type_name("NAMES");
  session.choices[sections] = section_ids;
  sub.add_option("--drawing", command->drawing, "for an svg: which of the report's drawings")
      ->type_name("NAME");
  sub.add_option("--plan", command->plan, "the balance plan that is shown")->type_name("N");
  sub.add_option("--place", command->place,
                 "with --for event: the neutral that is taken to have opened")
      ->type_name("PLACE");
  sub.add_option("--log", command->log, "a recorder's log, told beside the readings")
      ->type_name("FILE.csv");
  const auto* dates = sub.add_option("--log-dates", command->dates, "how the log writes 03/04/2026")
                          ->check(CLI::IsMember(day_order_names()))
                          ->type_name("ORDER");
  session.choices[dates] = day_order_names;
  const auto* paper =
      sub.add_option("--paper", command->paper, "size of a PDF's pages; by the supply when absent")
          ->type_name("SIZE");
  session.choices[paper] = [] { return kPapers; };
  sub.add_option("--date", command->date, "the day that the report is made; today when absent")
      ->type_name("YYYY-MM-DD");
  sub.add_flag("--no-proof", command->no_proof,
               "search faster, without proving that no state goes further");
  sub.add_flag("--json", command->json, "answer as JSON");
}

}  // namespace

void setup_report(CLI::App& app, Session& session) {
  auto command = std::make_shared<ReportCommand>();
  CLI::App* sub =
      add_command(app, session, "report", "the written record, in many forms", help_on_sections());
  add_options(*sub, session, command);
  sub->callback([command, &session] { run_report(*command, session); });
}

}  // namespace evenleg
