// `evenleg diagnose`: what the readings of a visit say about each conductor.
#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/audit/audit.h"
#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/report/diagnose_json.h"
#include "evenleg/report/diagnose_text.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/progress_line.h"
#include "src/cli/read_log.h"

namespace evenleg {
namespace {

struct DiagnoseCommand {
  std::string house;
  std::string log;
  std::string chart;
  std::string dates;
  std::string round;
  bool json = false;
  bool all = false;
  bool no_proof = false;
};

// What an opened neutral would do, with the measured excess as its degraded one.
Audit audit_beside(const House& house, const Tables& tables, const Diagnosis& diagnosis,
                   bool certify) {
  ProgressLine line;
  AuditOptions options;
  options.certify = certify;
  options.degraded_neutral_ohms = measured_neutral_excess(house, diagnosis);
  options.progress = progress_on(line);
  return audit(house, tables, options);
}

// The log's own part of the answer; the chart is written before anything is printed.
void write_chart(const DiagnoseCommand& command, const LogView& log) {
  if (command.chart.empty()) return;
  require_no_house_file(command.chart, "name another file for the chart, as hour.svg");
  write_file(command.chart, log_chart(log));
}

void require_log(const DiagnoseCommand& command) {
  if (!command.log.empty()) return;
  if (command.chart.empty() && command.dates.empty()) return;
  throw Error(ErrorKind::Request, {command.chart.empty() ? "--log-dates" : "--chart",
                                   "there is no log to read", "add --log FILE.csv"});
}

// Only the readings of one round of `evenleg visit`.
void keep_round(House& house, const std::string& round) {
  std::erase_if(house.readings, [&](const Reading& reading) {
    return !reading.label || !reading.label->starts_with(round + ":");
  });
  if (!house.readings.empty()) return;
  throw Error(ErrorKind::Request,
              {"--round", fmt::format("no reading's label begins with \"{}:\"", round),
               "see the labels with `evenleg readings`"});
}

void run_diagnose(const DiagnoseCommand& command, const Session& session) {
  const Tables tables = tables_for(session);
  House house = read_house(command.house, vocabulary(tables));
  if (!command.round.empty()) keep_round(house, command.round);
  require_log(command);
  std::optional<LogResult> log;
  if (!command.log.empty()) log = read_log(command.log, house, tables, day_order(command.dates));
  const Diagnosis diagnosis = diagnose(house, tables, log ? &*log : nullptr);
  std::optional<Audit> beside;
  if (measured_neutral_excess(house, diagnosis) || !diagnosis.patterns.empty()) {
    beside = audit_beside(house, tables, diagnosis, !command.no_proof);
  }
  const Vocabulary words = vocabulary(tables);
  const SupplySystem& system = *find_system(words, house.supply.system);
  std::optional<LogView> log_view;
  if (log) log_view.emplace(LogView{*log, system, command.log, name_of(house), command.all});
  if (log_view) write_chart(command, *log_view);
  const DiagnosisView view{
      house,      tables, diagnosis, beside ? &*beside : nullptr, log_view ? &*log_view : nullptr,
      command.all};
  if (command.json) {
    print_json(diagnose_json(view));
  } else {
    print(diagnose_text(view));
  }
}

}  // namespace

void setup_diagnose(CLI::App& app, Session& session) {
  auto command = std::make_shared<DiagnoseCommand>();
  CLI::App* sub = add_command(
      app, session, "diagnose", "what the readings say about each conductor",
      "evenleg diagnose Fernhill.house\n"
      "  evenleg diagnose fernhill.toml --log recorder.csv --chart worst-hour.svg --json\n\n"
      "The volts and amperes of the readings give the resistance of each conductor upstream of\n"
      "where they were read, beside what its run accounts for; with the answers of the visit they\n"
      "support patterns, never a cause.");
  sub->add_option("HOUSE", command->house, "a house file or a description")->required();
  sub->add_option("--log", command->log,
                  "a recorder's log with a time and both legs' volts; \"-\" reads standard input")
      ->type_name("FILE.csv");
  const auto* dates =
      sub->add_option("--log-dates", command->dates, "how the log writes 03/04/2026")
          ->check(CLI::IsMember(day_order_names()))
          ->type_name("ORDER");
  session.choices[dates] = day_order_names;
  sub->add_option("--chart", command->chart, "draw the log's worst hour")->type_name("FILE.svg");
  sub->add_option("--round", command->round, "only the readings of this round of `evenleg visit`")
      ->type_name("NAME");
  sub->add_flag("--all", command->all, "every pattern, event and hour in full");
  sub->add_flag("--no-proof", command->no_proof,
                "search the worst current of a neutral faster, without proof");
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_diagnose(*command, session); });
}

}  // namespace evenleg
