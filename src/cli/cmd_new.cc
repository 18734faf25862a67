// `evenleg new`: makes a house file, from a description or with one empty panel.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"

namespace evenleg {
namespace {

struct NewOptions {
  std::string house;
  std::string from;
  std::string system;
  bool json = false;
};

constexpr const char* kUsualSystem = "120/240 split-phase";
constexpr int kUsualSpaces = 40;

House empty_house(const std::filesystem::path& file) {
  House house;
  house.about["name"] = file.stem().string();
  house.supply.system = kUsualSystem;
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = kUsualSpaces;
  return house;
}

void run_new(const NewOptions& options, const Session& session) {
  const Vocabulary words = vocabulary(tables_for(session));
  const std::filesystem::path file = options.house;
  House house = options.from.empty() ? empty_house(file) : read_house(options.from, words);
  if (!options.system.empty()) house.supply.system = options.system;
  std::vector<Fault> faults = faults_in(house, words, file);
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  create_house_file(file, house);
  if (options.json) {
    print_json({{"format", kAnswerFormat}, {"file", options.house}, {"house", name_of(house)}});
  } else {
    print(fmt::format("{}: made, house \"{}\"\n", options.house, name_of(house)));
  }
}

}  // namespace

void setup_new(CLI::App& app, Session& session) {
  auto options = std::make_shared<NewOptions>();
  CLI::App* command = add_command(
      app, session, "new", "make a house file",
      "evenleg new Fernhill.house --from fernhill.toml\n"
      "  evenleg new Fernhill.house --system \"120/208 wye\"\n\n"
      "Without --from the house gets one panel, \"Main\", of 40 spaces, to be filled with\n"
      "`evenleg add`. A file that exists already is never overwritten.");
  command->add_option("HOUSE", options->house, "the house file to make")->required();
  command->add_option("--from", options->from, "a house description, or another house file")
      ->type_name("FILE");
  const auto* system = command
                           ->add_option("--system", options->system,
                                        "the supply system (\"120/240 split-phase\" when absent)")
                           ->type_name("NAME");
  session.choices[system] = [] {
    std::vector<std::string> names;
    for (const SupplySystem& one : load_tables().systems) names.push_back(one.name);
    return names;
  };
  command->add_flag("--json", options->json, "answer as JSON");
  command->callback([options, &session] { run_new(*options, session); });
}

}  // namespace evenleg
