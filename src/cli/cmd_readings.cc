// `evenleg readings`: what instruments showed, as tables; in from and out to CSV.
#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "evenleg/base/files.h"
#include "evenleg/base/format.h"
#include "evenleg/describe/readings_csv.h"
#include "evenleg/house/fields.h"
#include "evenleg/store/store.h"
#include "src/cli/commands.h"
#include "src/cli/input.h"
#include "src/cli/readings_table.h"

namespace evenleg {
namespace {

struct ReadingsCommand {
  std::string house;
  std::string out;
  std::string add;
  std::string replace;
  bool json = false;
};

// Each with the keys that it has, as in the description.
nlohmann::ordered_json readings_json(const std::vector<Reading>& readings) {
  auto all = nlohmann::ordered_json::array();
  for (const Reading& reading : readings) {
    auto one = nlohmann::ordered_json::object();
    for (const Field<Reading>& field : fields_of<Reading>()) {
      const std::string key(field.key);
      const Value value = field.get(reading);
      if (const auto* text = std::get_if<std::string>(&value)) one[key] = *text;
      if (const auto* number = std::get_if<double>(&value)) one[key] = *number;
      if (const auto* flag = std::get_if<bool>(&value)) one[key] = *flag;
      if (const auto* names = std::get_if<std::vector<std::string>>(&value)) one[key] = *names;
    }
    all.push_back(std::move(one));
  }
  return all;
}

// Adds, or puts in the place of all, as one change.
std::size_t take_in(const ReadingsCommand& command, const Vocabulary& words) {
  const bool replaces = !command.replace.empty();
  const std::string& file = replaces ? command.replace : command.add;
  std::vector<Reading> readings = read_readings_csv(read_file(file), file);
  change_house(command.house, [&](House& house) {
    House with_these = house;  // so that a fault counts the readings as the file does
    with_these.readings = readings;
    std::vector<Fault> faults = faults_in(with_these, words, file);
    if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
    if (replaces) house.readings.clear();
    house.readings.insert(house.readings.end(), readings.begin(), readings.end());
  });
  return readings.size();
}

std::string told(const ReadingsCommand& command, const Vocabulary& words) {
  const House house = read_house(command.house, words);
  if (house.readings.empty()) {
    return fmt::format(
        "{} holds no readings yet.\n"
        "  evenleg visit {}                    takes them step by step\n"
        "  evenleg readings {} --add FILE.csv  takes a table of them\n",
        command.house, command.house, command.house);
  }
  return fmt::format("{}: {}\n\n{}", command.house, counted(house.readings.size(), "reading"),
                     readings_table(house));
}

void run_readings(const ReadingsCommand& command, const Session& session) {
  const Vocabulary words = vocabulary(tables_for(session));
  if (!command.add.empty() || !command.replace.empty()) {
    const std::size_t taken = take_in(command, words);
    if (command.json) {
      return print_json({{"format", kAnswerFormat}, {"file", command.house}, {"taken", taken}});
    }
    return print(fmt::format("{}: {} taken from {}\n", command.house, counted(taken, "reading"),
                             command.replace.empty() ? command.add : command.replace));
  }
  if (!command.out.empty()) {
    const std::string text = write_readings_csv(read_house(command.house, words).readings);
    if (command.out == "-") return print(text);
    require_no_house_file(command.out, "name another file for the table, as readings.csv");
    write_file(command.out, text);
    return print(fmt::format("{}: written\n", command.out));
  }
  if (!command.json) return print(told(command, words));
  const House house = read_house(command.house, words);
  print_json({{"format", kAnswerFormat},
              {"file", command.house},
              {"readings", readings_json(house.readings)}});
}

}  // namespace

void setup_readings(CLI::App& app, Session& session) {
  auto command = std::make_shared<ReadingsCommand>();
  CLI::App* sub =
      add_command(app, session, "readings", "the readings of a visit, to and from CSV",
                  "evenleg readings Fernhill.house\n"
                  "  evenleg readings Fernhill.house --out readings.csv\n"
                  "  evenleg readings Fernhill.house --add more.csv\n\n"
                  "A column is headed with a key of a reading: at, label, on,\n"
                  "l1_n_volts, l1_amps …; loads that were on have a semicolon between.");
  sub->add_option("HOUSE", command->house, "a house file; a description to read from")->required();
  auto* out = sub->add_option("--out", command->out, "write them to a file; \"-\" prints them")
                  ->type_name("FILE.csv");
  auto* add = sub->add_option("--add", command->add, "add those of a file")->type_name("FILE.csv");
  auto* replace =
      sub->add_option("--replace", command->replace, "put those of a file in their place")
          ->type_name("FILE.csv");
  out->excludes(add)->excludes(replace);
  add->excludes(replace);
  sub->add_flag("--json", command->json, "answer as JSON");
  sub->callback([command, &session] { run_readings(*command, session); });
}

}  // namespace evenleg
