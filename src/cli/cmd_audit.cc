// `evenleg audit`: legs, neutrals, what every load would see if a neutral opened, wiring findings.
#include <fmt/format.h>

#include <memory>
#include <optional>

#include "evenleg/audit/audit.h"
#include "evenleg/base/error.h"
#include "evenleg/report/audit_json.h"
#include "evenleg/report/audit_text.h"
#include "src/cli/audit_text.h"
#include "src/cli/commands.h"
#include "src/cli/exit_status.h"
#include "src/cli/input.h"
#include "src/cli/progress_line.h"

namespace evenleg {
namespace {

constexpr double kMostAddedOhms = 1e6;  // as for a run

struct AuditCommand {
  std::string house;
  std::string scenario;
  std::optional<double> neutral_ohms;
  bool json = false;
  bool all = false;
  bool no_proof = false;
  bool fail_on_danger = false;
};

Audit audit_with_progress(const House& house, const Tables& tables, AuditOptions options) {
  ProgressLine line;
  options.progress = progress_on(line);
  return audit(house, tables, options);
}

void check_ohms(const std::optional<double>& ohms) {
  if (!ohms || (*ohms >= 0 && *ohms <= kMostAddedOhms)) return;
  throw Error(ErrorKind::Request,
              {"--neutral-ohms", fmt::format("{} is no resistance of a neutral", *ohms),
               fmt::format("give a number from 0 to {}", kMostAddedOhms)});
}

void run_audit(const AuditCommand& command, Session& session) {
  check_ohms(command.neutral_ohms);
  const Tables tables = tables_for(session);
  const House house = read_house(command.house, vocabulary(tables));
  AuditOptions options;
  if (!command.scenario.empty()) options.scenario = command.scenario;
  options.certify = !command.no_proof;
  options.degraded_neutral_ohms = command.neutral_ohms;
  const Audit result = audit_with_progress(house, tables, options);
  const std::string text = command.json
                               ? audit_json(house, tables, result, options.scenario)
                               : audit_text(house, tables, result, {command.all, options.scenario});
  print(std::string_view(text));
  if (command.fail_on_danger && shows_danger(result)) session.status = kDangerFound;
}

}  // namespace

std::string audit_text(const House& house, const Tables& tables) {
  return audit_text(house, tables, audit(house, tables));
}

void setup_audit(CLI::App& app, Session& session) {
  auto command = std::make_shared<AuditCommand>();
  CLI::App* sub = add_command(
      app, session, "audit", "legs, neutrals, and what an open neutral would do",
      "evenleg audit Fernhill.house\n"
      "  evenleg audit fernhill.toml --scenario \"Winter evening\" --json\n\n"
      "Exit status 1 with --fail-on-danger: a wiring finding is a danger. What an open neutral\n"
      "would do is not counted.");
  sub->add_option("HOUSE", command->house, "a house file or a description")->required();
  sub->add_option("--scenario", command->scenario,
                  "take the loads of this scenario for those that are on as found")
      ->type_name("NAME");
  sub->add_option("--neutral-ohms", command->neutral_ohms,
                  "what is added in the service neutral to stand for a bad one")
      ->type_name("OHMS");
  sub->add_flag("--all", command->all, "every row of the ranking and every place in full");
  sub->add_flag("--no-proof", command->no_proof,
                "search faster, without proving that no state goes further");
  sub->add_flag("--fail-on-danger", command->fail_on_danger,
                "exit status 1 when a danger is found");
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_audit(*command, session); });
}

}  // namespace evenleg
