// `evenleg demand`: the service load by a stated calculation method.
#include <fmt/format.h>

#include <charconv>
#include <memory>

#include "evenleg/balance/demand.h"
#include "evenleg/report/demand_json.h"
#include "evenleg/report/demand_text.h"
#include "src/cli/added_load.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"

namespace evenleg {
namespace {

struct DemandCommand {
  std::string house;
  std::string method = DemandOptions().method;
  std::string edition;
  std::vector<std::string> added;
  bool json = false;
};

std::optional<int> edition_in(const std::string& text) {
  if (text.empty()) return std::nullopt;
  int year = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), year);
  if (fault == std::errc() && end == text.data() + text.size()) return year;
  throw Error(ErrorKind::Request, {"--edition", fmt::format("\"{}\" is no year", text),
                                   "write the year of the edition, such as 2023"});
}

void run_demand(const DemandCommand& command, const Session& session) {
  const Tables tables = tables_for(session);
  const House house = read_house(command.house, vocabulary(tables));
  DemandOptions options{command.method, edition_in(command.edition), {}};
  for (const std::string& text : command.added) {
    options.added.push_back(added_load(text, house, tables));
  }
  const DemandResult result = demand(house, tables, options);
  print(command.json ? demand_json(house, result) : demand_text(house, result));
}

}  // namespace

void setup_demand(CLI::App& app, Session& session) {
  auto command = std::make_shared<DemandCommand>();
  CLI::App* sub = add_command(
      app, session, "demand", "the service load by a stated calculation method",
      "evenleg demand Fernhill.house\n"
      "  evenleg demand Fernhill.house --method standard --edition 2020\n"
      "  evenleg demand Fernhill.house --add \"EV charger=9600 W\"\n\n"
      "Every step with its rule, the service's and the neutral's amperes, what they are held\n"
      "against and what is left. Needs [dwelling] in the description. A calculation, not an\n"
      "approval.");
  sub->add_option("HOUSE", command->house, "a house file or a description")->required();
  const auto* method =
      sub->add_option("--method", command->method,
                      "standard, optional (when absent), existing, recorded or canadian")
          ->type_name("NAME");
  session.choices[method] = [] { return demand_methods(load_tables()); };
  sub->add_option("--edition", command->edition, "year of the code's edition")->type_name("YEAR");
  sub->add_option("--add", command->added,
                  "a load between the legs that is not there yet: \"EV charger=9600 W\", "
                  "\"water heater=4.5 kW\", \"cooling=20 A\"")
      ->type_name("LOAD")
      ->type_size(1)
      ->allow_extra_args(false);
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_demand(*command, session); });
}

}  // namespace evenleg
