// `evenleg balance`: leg loads by scenario, the fewest moves that even them, a plan applied or
// taken back.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <string_view>

#include "evenleg/base/format.h"
#include "evenleg/report/balance_json.h"
#include "evenleg/report/balance_text.h"
#include "src/cli/apply_plan.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/progress_line.h"

namespace evenleg {
namespace {

constexpr double kMostAmps = 1e5;  // far above any dwelling's leg

struct BalanceCommand {
  std::string house;
  bool keep_spares = false;
  std::optional<int> plan;
  std::optional<int> apply;
  bool undo = false;
  std::optional<double> limit;
  std::string limit_at;
  bool no_audit = false;
  bool no_proof = false;
  bool json = false;
};

void check_together(const BalanceCommand& command) {
  const int given = static_cast<int>(command.plan.has_value()) +
                    static_cast<int>(command.apply.has_value()) + static_cast<int>(command.undo);
  if (given > 1) {
    throw Error(ErrorKind::Request,
                {"balance", "--plan, --apply and --undo do not go together", "give one of them"});
  }
  if (!command.limit_at.empty() && !command.limit) {
    throw Error(ErrorKind::Request,
                {"--limit-at", "stands without --limit", "give the limit with --limit AMPS"});
  }
}

LimitOptions limit_options(const BalanceCommand& command, const House& house) {
  LimitOptions options;
  if (!command.limit) return options;
  if (!(*command.limit > 0 && *command.limit <= kMostAmps)) {
    throw Error(ErrorKind::Request,
                {"--limit", fmt::format("{} is no limit of a leg", exact(*command.limit)),
                 fmt::format("give amperes above 0, at most {}", exact(kMostAmps))});
  }
  options.amps = command.limit;
  if (command.limit_at.empty()) return options;
  std::vector<std::string> names;
  for (const Panel& panel : house.panels) names.push_back(panel.name);
  const auto found = std::find(names.begin(), names.end(), command.limit_at);
  if (found == names.end()) {
    const auto close = nearest(command.limit_at, names);
    throw Error(ErrorKind::Request,
                {"--limit-at", fmt::format("there is no panel \"{}\"", command.limit_at),
                 close ? fmt::format("perhaps \"{}\"", *close) : "see `evenleg show`"});
  }
  options.panel = static_cast<int>(found - names.begin());
  return options;
}

// The index of plan N, which counts from 1.
int plan_index(const Balance& result, int number, const std::string& option,
               const std::string& house) {
  const int plans = static_cast<int>(result.plans.size());
  if (number >= 1 && number <= plans) return number - 1;
  std::string there = "there is none that betters the house as it is";
  if (plans > 0)
    there = plans == 1 ? "there is plan 1" : fmt::format("there are plans 1 to {}", plans);
  throw Error(ErrorKind::Request, {option, fmt::format("there is no plan {}", number),
                                   fmt::format("{}: see `evenleg balance {}`", there, house)});
}

NeutralFigures audited(const House& house, const Tables& tables, bool certify,
                       const std::string& which) {
  ProgressLine line;
  AuditOptions options;
  options.certify = certify;
  options.progress = progress_on(line, which);
  return neutral_figures(audit(house, tables, options));
}

// The house as it is, and with each plan that is told.
void add_audits(const BalanceCommand& command, BalanceReport& report,
                const std::optional<PlannedHouse>& shown) {
  const std::vector<BalancePlan>& plans = report.balance.plans;
  report.with_plan.resize(plans.size());
  if (command.no_audit || plans.empty()) return;
  report.as_it_is = audited(report.house, report.tables, !command.no_proof, "as it is: ");
  for (std::size_t p = 0; p < plans.size(); ++p) {
    const bool told =
        shown ? static_cast<int>(p) == shown->plan : p < static_cast<std::size_t>(kPlansTold);
    if (!told) continue;
    report.with_plan[p] = audited(with_plan(report.house, plans[p]), report.tables,
                                  !command.no_proof, fmt::format("plan {}: ", p + 1));
  }
}

std::vector<std::string> circuits_of(const AppliedPlan& plan) {
  std::vector<std::string> names;
  for (const KeyChange& change : plan) {
    if (change.kind != "circuit") continue;
    if (names.empty() || names.back() != change.name) names.push_back(change.name);
  }
  return names;
}

void answer_change(const BalanceCommand& command, const std::string& done,
                   const AppliedPlan& changes, const std::string& sentence) {
  if (!command.json) return print(sentence);
  nlohmann::ordered_json answer{{"format", kAnswerFormat},
                                {"file", command.house},
                                {"done", done},
                                {"circuits", circuits_of(changes)}};
  if (command.apply) answer["plan"] = *command.apply;
  print_json(answer);
}

void run_undo(const BalanceCommand& command, const Vocabulary& words) {
  const AppliedPlan undone = undo_plan(command.house, words);
  answer_change(command, "undone", undone,
                fmt::format("{}: the plan applied last is taken back, {}\n", command.house,
                            counted(circuits_of(undone).size(), "circuit")));
}

void run_apply(const BalanceCommand& command, const House& house, const Balance& result,
               const Vocabulary& words) {
  const int index = plan_index(result, *command.apply, "--apply", command.house);
  const House planned = with_plan(house, result.plans[static_cast<std::size_t>(index)]);
  const AppliedPlan changes = apply_plan(command.house, house, planned, words);
  answer_change(command, "applied", changes,
                fmt::format("{}: plan {} is written into the house, {}; `evenleg balance {} "
                            "--undo` takes it back\n"
                            "The description has changed, not the panel: moving circuits in a "
                            "panel is licensed work.\n",
                            command.house, *command.apply,
                            counted(circuits_of(changes).size(), "circuit"), command.house));
}

Balance balanced(const BalanceCommand& command, const House& house, const Tables& tables) {
  ProgressLine line;
  BalanceOptions options;
  options.keep_spares = command.keep_spares;
  options.progress = progress_on(line, "");
  return balance(house, tables, options);
}

void run_balance(const BalanceCommand& command, const Session& session) {
  check_together(command);
  const Tables tables = tables_for(session);
  const Vocabulary words = vocabulary(tables);
  if (command.apply) require_house_file(command.house, "--apply");
  if (command.undo) require_house_file(command.house, "--undo");
  if (command.undo) return run_undo(command, words);
  const House house = read_house(command.house, words);
  const LimitOptions limits = limit_options(command, house);
  const Balance result = balanced(command, house, tables);
  if (command.apply) return run_apply(command, house, result, words);
  std::optional<PlannedHouse> shown;
  if (command.plan) {
    const int index = plan_index(result, *command.plan, "--plan", command.house);
    shown = PlannedHouse{index, with_plan(house, result.plans[static_cast<std::size_t>(index)])};
  }
  BalanceReport report{house, tables, result};
  report.keep_spares = command.keep_spares;
  report.limit_options = limits;
  const Wiring wiring = wire(house, *find_system(words, house.supply.system));
  report.limits = leg_limits(house, wiring, tables, limits);
  add_audits(command, report, shown);
  print(std::string_view(command.json ? balance_json(report) : balance_text(report, shown)));
}

void add_options(CLI::App& sub, const std::shared_ptr<BalanceCommand>& command) {
  sub.add_option("HOUSE", command->house, "a house file or a description")->required();
  sub.add_flag("--keep-spares", command->keep_spares, "leave spaces that are empty empty");
  sub.add_option("--plan", command->plan, "one plan in full, its schedule before and after")
      ->type_name("N");
  sub.add_option("--limit", command->limit,
                 "what the source gives on each leg, in place of breaker_a")
      ->type_name("AMPS");
  sub.add_option("--limit-at", command->limit_at,
                 "the panel that --limit is of; the first when absent")
      ->type_name("PANEL");
  sub.add_option("--apply", command->apply, "write plan N into the house file")->type_name("N");
  sub.add_flag("--undo", command->undo, "take back the plan that was applied last");
  sub.add_flag("--no-audit", command->no_audit,
               "leave out what plans do to the neutral and if it opens");
  sub.add_flag("--no-proof", command->no_proof,
               "audit faster, without proving that no state goes further");
  sub.add_flag("--json", command->json, "answer as JSON");
}

}  // namespace

void setup_balance(CLI::App& app, Session& session) {
  auto command = std::make_shared<BalanceCommand>();
  CLI::App* sub = add_command(
      app, session, "balance", "leg loads by scenario, and the fewest moves that even them",
      "evenleg balance Fernhill.house\n"
      "  evenleg balance Fernhill.house --plan 2\n"
      "  evenleg balance Fernhill.house --limit 25\n"
      "  evenleg balance Fernhill.house --apply 2\n"
      "  evenleg balance Fernhill.house --undo\n\n"
      "Scenarios are the house's own (`evenleg add HOUSE scenario …`); \"as found\" is the loads\n"
      "that are on. Give --keep-spares with --apply if the plan was shown with it. --apply "
      "changes\n"
      "the description alone: moving circuits in a panel is licensed work.");
  add_options(*sub, command);
  sub->callback([command, &session] { run_balance(*command, session); });
}

}  // namespace evenleg
