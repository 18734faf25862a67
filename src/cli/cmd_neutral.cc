// `evenleg neutral`: one neutral in depth, from sound to open.
#include <fmt/format.h>

#include <memory>
#include <string_view>

#include "evenleg/audit/neutral.h"
#include "evenleg/report/neutral_json.h"
#include "evenleg/report/neutral_text.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/progress_line.h"

namespace evenleg {
namespace {

struct NeutralCommand {
  std::string house;
  std::string place;
  std::string scenario;
  bool json = false;
  bool all = false;
  bool no_proof = false;
};

NeutralDepth in_depth_with_progress(const House& house, const Tables& tables,
                                    const std::string& place, NeutralOptions options) {
  ProgressLine line;
  options.progress = progress_on(line);
  return neutral_in_depth(house, tables, place, options);
}

void run_neutral(const NeutralCommand& command, const Session& session) {
  const Tables tables = tables_for(session);
  const House house = read_house(command.house, vocabulary(tables));
  NeutralOptions options;
  if (!command.scenario.empty()) options.scenario = command.scenario;
  options.certify = !command.no_proof;
  const NeutralDepth depth = in_depth_with_progress(house, tables, command.place, options);
  print(command.json ? neutral_json(house, tables, depth, options.scenario)
                     : neutral_text(house, tables, depth, {command.all, options.scenario}));
}

}  // namespace

void setup_neutral(CLI::App& app, Session& session) {
  auto command = std::make_shared<NeutralCommand>();
  CLI::App* sub = add_command(
      app, session, "neutral", "one neutral in depth, from sound to open",
      "evenleg neutral Fernhill.house service\n"
      "  evenleg neutral fernhill.toml \"Kitchen counter\" --scenario \"Winter evening\" --json\n\n"
      "How much a joint in it would have to add before the first load leaves its limits, what\n"
      "every outlet would see up to there and beyond, and the heat in the joint. The places are\n"
      "those at which `evenleg audit` opens a neutral.");
  sub->add_option("HOUSE", command->house, "a house file or a description")->required();
  sub->add_option("PLACE", command->place,
                  "\"service\", or the name of a panel, a multiwire or one of its outlets")
      ->required();
  sub->add_option("--scenario", command->scenario,
                  "take the loads of this scenario for those that are on as found")
      ->type_name("NAME");
  sub->add_flag("--all", command->all, "every resistance looked at, and every balance point");
  sub->add_flag("--no-proof", command->no_proof,
                "search faster, without proving that no state goes further");
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_neutral(*command, session); });
}

}  // namespace evenleg
