#include "tests/store/store_fixture.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <grp.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace evenleg::store_test {

namespace fs = std::filesystem;

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "evenleg-store-XXXXXX").string();
  REQUIRE(::mkdtemp(name.data()) != nullptr);
  path_ = name;
  fs::permissions(path_, fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec |
                             fs::perms::others_read | fs::perms::others_exec);
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::set<std::string> Folder::names() const {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(path_)) {
    names.insert(entry.path().filename().string());
  }
  return names;
}

bool in_full() {
  const char* asked = std::getenv("EVENLEG_FULL");
  return asked != nullptr && std::string(asked) == "1";
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void put_bytes(const fs::path& path, const std::string& bytes) {
  fs::remove(path);  // truncating instead makes some file systems flush, which takes long
  std::ofstream(path, std::ios::binary) << bytes;
}

void run_sql(const fs::path& path, const std::string& sql, bool checks) {
  SQLite::Database file(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  if (!checks) file.exec("PRAGMA ignore_check_constraints = ON");
  file.exec(sql);
}

int in_child(const std::function<int()>& work) {
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    int status = 99;
    try {
      status = work();
    } catch (...) {
    }
    ::_exit(status);
  }
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

int in_plain_child(const std::function<int()>& work) {
  constexpr uid_t kNobody = 65534;
  return in_child([&] {
    if (::geteuid() == 0 &&
        (::setgroups(0, nullptr) != 0 || ::setgid(kNobody) != 0 || ::setuid(kNobody) != 0)) {
      return 98;
    }
    return work();
  });
}

namespace {

Run every_run() {
  Run run;
  run.conductor = "4/0 Al";
  run.neutral = "2/0 Al";
  run.length_ft = 80.25;
  run.hot_ohms = 0.1;  // no binary fraction: exact only if the double itself is stored
  run.neutral_ohms = 0;
  return run;
}

Run metric_run() {
  Run run;
  run.conductor = "2.5 mm2 Cu";
  run.length_m = 1.0 / 3.0;
  return run;
}

void add_wiring(House& house) {
  house.supply = {"120/240 split-phase", {121.8, 121.2}, Transformer{25, 1.2, 1.5}};
  house.service = Service{200, every_run(), 30};
  house.service->run.length_m =
      24.5;  // beside length_ft: validate() refuses that, the file need not
  house.dwelling = Dwelling{1650.1, 153.3, 3, 1, true, 61.5, "1 year"};  // both areas, as above
  house.panels = {{"Main", 40, 135, {}, {}, {}, metric_run()},
                  {"Garage", 12, {}, "Main", {39, 37}, 60, every_run()}};
  house.circuits = {{"Counter left", "Main", 5, {}, 1, 20, "AFCI", true, every_run()},
                    {"Counter right", {}, {}, {"L2"}, 1, {}, "GFCI", false, {}},
                    {"Küche \"Herd\"; DROP TABLE load; --",
                     "Garage",
                     {},
                     {"L2", "L1"},
                     2,
                     40,
                     "dual",
                     false,
                     metric_run()}};
  house.circuits[0].measured_amps = 7.3;
  house.multiwires = {
      {"Kitchen counter", {"Counter right", "Counter left"}, true, "spliced", every_run()},
      {"Not known", {"Counter left"}, {}, "unknown", metric_run()}};
  house.outlets = {{"Left of range", "Kitchen counter", {}, metric_run()},
                   {"Left of sink", "Counter left", "Left of range", every_run()}};
}

Load load_at(const std::string& name, const std::string& at) {
  Load load;
  load.name = name;
  load.at = at;
  return load;
}

void add_loads(House& house) {
  Load toaster = load_at("Toaster", "Left of sink");
  toaster.circuit = "Counter left";
  toaster.connect = "L-N";
  toaster.kind = "heating";
  toaster.watts = 1100;
  toaster.volts = 120;
  toaster.power_factor = 0.95;
  toaster.leading = true;
  toaster.on = false;
  toaster.switching = "always on";
  toaster.noncoincident = "heat or cool";
  toaster.max_volts = 132;
  toaster.starting_amps = 60.1;
  Load range = load_at("Range", "Counter left");
  range.va = 7200.5;
  Load pump = load_at("Pump", "Left of range");
  pump.amps = 1e-9;
  pump.spectrum = {{"3", 9.7}, {"50", 0}};
  pump.spectrum_degrees = {{"3", -112}};
  pump.code_letter = "V";
  pump.horsepower = 0.5;
  pump.starting_power_factor = 0.7;
  pump.starts_per_hour = 4;
  pump.demand = "motor";
  pump.appliance = "Well";
  Load rail = load_at("Towel rail", "Left of range");
  rail.ohms = 1e6;
  Load lamp = load_at("Lamp", "Left of range");
  lamp.measured_amps = 0.4;
  house.loads = {toaster, range, pump, rail, lamp};
}

}  // namespace

House every_key_house() {
  House house;
  house.about = {{"name", "Fernhill 小屋"}, {"living area", "120"}, {"notes", ""}};
  add_wiring(house);
  add_loads(house);
  house.scenarios = {{"Winter evening", {"Towel rail", "Range"}, {}},
                     {"Morning", {}, {{"Toaster", 1}, {"Range", 0.4}}}};
  Reading whole{.at = "Main",
                .label = "kettle on",
                .time = "2026-03-14T10:20:00",
                .on = {"Toaster", "Lamp"},
                .main_off = true,
                .l1_n_volts = 118.9,
                .l2_n_volts = 122.0,
                .l3_n_volts = 121.0,
                .l1_l2_volts = 240.9,
                .l2_l3_volts = 208.1,
                .l3_l1_volts = 207.9,
                .l1_amps = 12.1,
                .l2_amps = 0.5,
                .l3_amps = 0.4,
                .neutral_amps = 11.6,
                .electrode_amps = 0.3,
                .water_pipe_amps = 0.2,
                .together_amps = 0.1,
                .neutral_ground_volts = 0.7,
                .l1_ground_volts = 119.5,
                .l2_ground_volts = 121.5,
                .l3_ground_volts = 120.5,
                .joint_volts = 1.5,
                .instrument = "clamp meter",
                .meter_input = "low impedance",
                .accuracy_percent = 0.5,
                .accuracy_volts = 0.2,
                .amps_accuracy_percent = 2};
  Reading bare;
  bare.at = "Left of sink";
  house.readings = {whole, bare};
  house.visit = {{"complaint", "one line\nand another"}, {"by", "A. B."}};
  house.findings = {{"Main, neutral bar", "discoloured", "consistent with heat", "inspect", "soon"},
                    {{}, "a cover is missing", {}, {}, {}}};
  return house;
}

}  // namespace evenleg::store_test
