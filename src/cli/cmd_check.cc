// `evenleg check`: whether a house file or a description is sound.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/base/format.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"

namespace evenleg {
namespace {

struct CheckOptions {
  std::string house;
  bool json = false;
};

// All that is wrong with a house file, the file first: what is in a damaged one says little.
std::vector<Fault> faults_of_file(const std::string& file, const Vocabulary& words) {
  std::vector<Fault> faults;
  for (const std::string& what : check_house_file(file)) {
    faults.push_back({file, what, "restore the file from a copy"});
  }
  return faults.empty() ? faults_in(load_house(file), words, file) : faults;
}

void answer(const CheckOptions& options, const std::vector<Fault>& faults) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Fault& fault : faults) {
    list.push_back({{"where", fault.where}, {"what", fault.what}, {"remedy", fault.remedy}});
  }
  print_json({{"format", kAnswerFormat},
              {"file", options.house},
              {"sound", faults.empty()},
              {"faults", list}});
}

void run_check(const CheckOptions& options, const Session& session) {
  const Vocabulary words = vocabulary(tables_for(session));
  House house;
  try {
    if (is_house_file(options.house)) {
      std::vector<Fault> faults = faults_of_file(options.house, words);
      if (!faults.empty()) throw Error(ErrorKind::File, std::move(faults));
    }
    house = read_house(options.house, words);
  } catch (const Error& error) {
    if (options.json) answer(options, error.faults());
    throw;
  }
  if (options.json) return answer(options, {});
  print(fmt::format(
      "{}: sound; {}\n", options.house,
      listed({counted(house.panels.size(), "panel"), counted(house.circuits.size(), "circuit"),
              counted(house.multiwires.size(), "multiwire"),
              counted(house.outlets.size(), "outlet"), counted(house.loads.size(), "load")})));
}

}  // namespace

void setup_check(CLI::App& app, Session& session) {
  auto options = std::make_shared<CheckOptions>();
  CLI::App* command = add_command(
      app, session, "check", "whether a house file or a description is sound",
      "evenleg check Fernhill.house\n\n"
      "Every fault is one line. Sound means that the record can be used, and nothing about the\n"
      "wiring itself: that is for `evenleg audit`.");
  command->add_option("HOUSE", options->house, "a house file or a description")->required();
  command->add_flag("--json", options->json, "answer as JSON");
  command->callback([options, &session] { run_check(*options, session); });
}

}  // namespace evenleg
