#include <doctest/doctest.h>

#include <random>
#include <string>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/fields.h"
#include "tests/describe/full_house.h"
#include "tests/describe/small_vocabulary.h"

using namespace evenleg;

namespace {

House read(std::string_view text) {
  try {
    return read_description(text, "t", small_vocabulary());
  } catch (const Error& error) {
    const std::string failure = std::string(error.what()) + "\nin\n" + std::string(text);
    FAIL(failure);
    throw;
  }
}

template <class Record>
void check_all_keys_used(const std::vector<Record>& records) {
  for (const Field<Record>& field : fields_of<Record>()) {
    const std::string_view kind = kind_name<Record>;
    CAPTURE(kind);
    CAPTURE(field.key);
    bool used = false;
    for (const Record& record : records) used = used || field.get(record) != field.get(Record{});
    CHECK(used);
  }
}

// Texts with everything that TOML treats specially, each unlike all others.
class OddNames {
 public:
  explicit OddNames(std::mt19937& random) : random_(random) {}
  std::string next() {
    static const std::vector<std::string> kParts = {
        "\"", "\\",   "'",   "\"\"\"", "#",      "=",       "[",     "]]", ".",
        " ",  "é",    "小",  "🔌",      "\\n",    "\\u0041", "{",     "}",  ",",
        "A",  "true", "1e3", "ß",      "\u00A0", "\u2028",  "\uFEFF"};
    std::string name;
    const int parts = std::uniform_int_distribution<>(0, 6)(random_);
    std::uniform_int_distribution<std::size_t> part(0, kParts.size() - 1);
    for (int i = 0; i < parts; ++i) name += kParts[part(random_)];
    return name + std::to_string(++count_);
  }

 private:
  std::mt19937& random_;
  int count_ = 0;
};

// A valid house: every name, number and optional key at random.
class RandomHouse {
 public:
  explicit RandomHouse(unsigned seed) : random_(seed), names_(random_) {}

  House made() {
    House house;
    house.about["name"] = names_.next();
    if (coin()) house.about[names_.next()] = names_.next() + "\n\t" + names_.next();
    house.supply.system = "120/240 split-phase";
    if (coin()) house.supply.volts = {number(100, 130)};
    if (coin()) {
      house.supply.transformer = Transformer{number(5, 100), number(0.1, 5), number(0.1, 5)};
    }
    if (coin()) house.service = Service{};
    if (house.service) house.service->run = run();
    if (house.service && coin()) house.service->earth_return_ohms = number(1, 100);
    constexpr int kSpaces = 40;
    Panel panel;
    panel.name = names_.next();
    panel.spaces = kSpaces;
    house.panels = {panel};
    const int circuits = std::uniform_int_distribution<>(1, 12)(random_);
    for (int i = 1; i <= circuits; ++i) add_circuit(house, i);
    add_records(house);
    return house;
  }

 private:
  bool coin() { return random_() % 2 == 0; }
  double number(double least, double most) {
    return std::uniform_real_distribution<>(least, most)(random_);
  }
  Run run() {
    Run run;
    if (coin()) run.conductor = "12 Cu";
    if (run.conductor && coin()) run.neutral = "6 Cu";
    if (run.conductor) (coin() ? run.length_ft : run.length_m) = number(0, 100);
    if (coin()) run.hot_ohms = number(1e-8, 1e-6);
    if (run.hot_ohms && coin()) run.neutral_ohms = number(0, 10);
    return run;
  }
  void add_circuit(House& house, int space) {
    Circuit circuit;
    circuit.name = names_.next();
    circuit.space = space;
    circuit.run = run();
    if (coin()) circuit.breaker_a = number(1, 100);
    if (coin()) circuit.panel = house.panels[0].name;
    circuit.locked = coin();
    house.circuits.push_back(circuit);
    Outlet outlet;
    outlet.name = names_.next();
    outlet.on = circuit.name;
    outlet.run = run();
    house.outlets.push_back(outlet);
    Load load;
    load.name = names_.next();
    load.at = outlet.name;
    load.watts = number(1e-6, 1e4);
    load.on = coin();
    if (coin()) load.power_factor = number(0.1, 1);
    if (coin()) load.noncoincident = names_.next();
    house.loads.push_back(load);
  }
  void add_records(House& house) {
    house.scenarios.push_back({.name = names_.next(), .on = {}, .share = {}});
    for (const Load& load : house.loads) {
      if (coin()) house.scenarios[0].share[load.name] = number(0, 1);
    }
    Reading reading;
    reading.at = house.panels[0].name;
    reading.label = names_.next();
    reading.on = {house.loads[0].name};
    reading.time = coin() ? "2026-12-31T23:59:59+05:30" : "2024-02-29";
    reading.l1_amps = number(0, 100);
    house.readings.push_back(reading);
    if (coin()) house.visit[names_.next()] = "";
    SiteFinding finding;
    finding.where = names_.next();
    finding.observation = names_.next() + "\n\"x\"";
    house.findings = {finding};
  }

  std::mt19937 random_;
  OddNames names_;
};

}  // namespace

TEST_CASE("describe: the full house uses every key") {
  const House house = full_house();
  check_all_keys_used(std::vector{house.supply});
  check_all_keys_used(std::vector{*house.supply.transformer});
  check_all_keys_used(house.findings);
  check_all_keys_used(house.loads);
  check_all_keys_used(house.scenarios);
  check_all_keys_used(house.readings);
  // The keys of a run are spread over the kinds that have one; the other keys must all be used.
  const auto without_run = [](auto records) {
    using Record = typename decltype(records)::value_type;
    Record any_run{};
    any_run.run = {"12 Cu", "12 Cu", 1, 1, 1, 1};
    records.push_back(any_run);
    return records;
  };
  check_all_keys_used(without_run(std::vector{*house.service}));
  check_all_keys_used(without_run(house.panels));
  check_all_keys_used(without_run(house.circuits));
  check_all_keys_used(without_run(house.multiwires));
  check_all_keys_used(without_run(house.outlets));
}

TEST_CASE("describe: the full house means what it says, and survives being written") {
  const House house = read(kFullText);
  CHECK(house == full_house());
  CHECK(read(write_description(house)) == house);
}

TEST_CASE("describe: defaults and empty keys are left out, entries keep their order") {
  House house;
  house.about = {{"area", "2\tha"}, {"name", "A \"b\" \\ c"}, {"x y", ""}};
  house.supply.system = "230/400 wye";
  house.supply.volts = {231};
  house.service.emplace();
  Panel first;
  first.name = "Z";
  first.spaces = 12;
  Panel second;
  second.name = "B";
  second.spaces = 6;
  second.fed_from = "Z";
  second.at_spaces = {1, 3};
  house.panels = {first, second};
  Circuit lights;
  lights.name = "Lights";
  lights.legs = {"L3"};
  lights.locked = true;
  lights.run.length_m = 12.5;
  house.circuits = {lights};
  Load lamp;
  lamp.name = "Lamp";
  lamp.at = "Lights";
  lamp.watts = 60;
  lamp.on = false;
  house.loads = {lamp};
  house.scenarios = {{.name = "Dusk", .on = {}, .share = {{"Big lamp", 0.25}, {"Lamp", 1}}}};
  Reading reading;
  reading.at = "Z";
  reading.time = "2026-03-14T10:20:00";
  house.readings = {reading};
  SiteFinding finding;
  finding.observation = "a\nb";
  house.findings = {finding};
  CHECK(write_description(house) == R"(format = 1

[house]
name = "A \"b\" \\ c"
area = "2\tha"
"x y" = ""

[supply]
system = "230/400 wye"
volts = 231

[service]

[[panel]]
name = "Z"
spaces = 12

[[panel]]
name = "B"
spaces = 6
fed_from = "Z"
at_spaces = [1, 3]

[[circuit]]
name = "Lights"
legs = ["L3"]
locked = true
length_m = 12.5

[[load]]
name = "Lamp"
at = "Lights"
watts = 60
on = false

[[scenario]]
name = "Dusk"
share = { "Big lamp" = 0.25, Lamp = 1 }

[[reading]]
at = "Z"
time = 2026-03-14T10:20:00

[[finding]]
observation = "a\nb"
)");
}

TEST_CASE("describe: numbers read back as the same double") {
  for (const double number : {1e-9, 1.5e-9, 0.1, 1.0 / 3, 120.0, 1e4, 32807.999999999996}) {
    CAPTURE(number);
    House house = full_house();
    house.service->run.length_ft = number;
    CHECK(read(write_description(house)).service->run.length_ft == number);
  }
}

TEST_CASE("describe: random houses survive being written and read") {
  constexpr unsigned kHouses = 300;
  for (unsigned seed = 1; seed <= kHouses; ++seed) {
    CAPTURE(seed);
    const House house = RandomHouse(seed).made();
    const std::string text = write_description(house);
    REQUIRE(read(text) == house);
    REQUIRE(write_description(read(text)) == text);
  }
}
