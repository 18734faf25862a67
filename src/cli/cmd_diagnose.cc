// `evenleg diagnose`: what the readings of a visit say about each conductor.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/audit/audit.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/report/diagnose_json.h"
#include "evenleg/report/diagnose_text.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/progress_line.h"

namespace evenleg {
namespace {

struct DiagnoseCommand {
  std::string house;
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
  options.progress = [&line](std::string_view doing, int done, int all) {
    line.write(fmt::format("{}: {} of {}", doing, done, all));
  };
  return audit(house, tables, options);
}

void run_diagnose(const DiagnoseCommand& command, const Session& session) {
  const Tables tables = tables_for(session);
  const House house = read_house(command.house, vocabulary(tables));
  const Diagnosis diagnosis = diagnose(house, tables);
  std::optional<Audit> beside;
  if (measured_neutral_excess(house, diagnosis) || !diagnosis.patterns.empty()) {
    beside = audit_beside(house, tables, diagnosis, !command.no_proof);
  }
  const DiagnosisView view{house, tables, diagnosis, beside ? &*beside : nullptr, command.all};
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
      "  evenleg diagnose fernhill.toml --json\n\n"
      "The volts and amperes of the readings give the resistance of each conductor upstream of\n"
      "where they were read, beside what its run accounts for; with the answers of the visit they\n"
      "support patterns, never a cause.");
  sub->add_option("HOUSE", command->house, "a house file or a description")->required();
  sub->add_flag("--all", command->all, "every pattern in full");
  sub->add_flag("--no-proof", command->no_proof,
                "search the worst current of a neutral faster, without proof");
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_diagnose(*command, session); });
}

}  // namespace evenleg
