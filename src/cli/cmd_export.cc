// `evenleg export`: prints the house description.
#include <memory>

#include "evenleg/describe/describe.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"

namespace evenleg {

void setup_export(CLI::App& app, Session& session) {
  auto house = std::make_shared<std::string>();
  CLI::App* command = add_command(app, session, "export", "print the house description",
                                  "evenleg export Fernhill.house > fernhill.toml\n\n"
                                  "Reading the text back gives the same house.");
  command->add_option("HOUSE", *house, "a house file or a description")->required();
  command->callback([house, &session] {
    print(write_description(read_house(*house, vocabulary(tables_for(session)))));
  });
}

}  // namespace evenleg
