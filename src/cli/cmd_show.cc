// `evenleg show`: the panel schedules, the multiwires, the loads.
#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/house/wiring.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/schedule.h"

namespace evenleg {
namespace {

struct ShowOptions {
  std::string house;
  bool json = false;
};

void run_show(const ShowOptions& options, const Session& session) {
  const Vocabulary words = vocabulary(tables_for(session));
  const House house = read_house(options.house, words);
  const Wiring wiring = wire(house, *find_system(words, house.supply.system));
  if (options.json) {
    print_json(schedule_json(house, wiring));
  } else {
    print(schedule_text(house, wiring));
  }
}

}  // namespace

void setup_show(CLI::App& app, Session& session) {
  auto options = std::make_shared<ShowOptions>();
  CLI::App* command = add_command(
      app, session, "show", "the panel schedules, the multiwires, the loads",
      "evenleg show Fernhill.house\n\n"
      "Each panel is drawn as its face: odd spaces left, even right, the leg of each row\n"
      "between them. [M1] marks the circuits of the first multiwire.");
  command->add_option("HOUSE", options->house, "a house file or a description")->required();
  command->add_flag("--json", options->json, "answer as JSON");
  command->callback([options, &session] { run_show(*options, session); });
}

}  // namespace evenleg
