// Data files from a folder, their faults, and the files that are built in.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "evenleg/tables/tables.h"
#include "src/tables/embedded.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

// An empty folder of its own for each test, removed at the end.
struct Folder {
  fs::path path;
  Folder() {
    std::string name = (fs::temp_directory_path() / "evenleg-data-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path = name;
  }
  ~Folder() { fs::remove_all(path); }
};

// The lines of the error that reading `folder` gives, with the folder's own path left out.
std::string faults_of(const fs::path& folder) {
  try {
    (void)load_tables(folder);
  } catch (const Error& error) {
    CHECK(error.kind() == ErrorKind::Request);
    std::string text = error.what();
    const std::string prefix = folder.string() + "/";
    for (std::size_t at; (at = text.find(prefix)) != std::string::npos;) {
      text.erase(at, prefix.size());
    }
    return text;
  }
  return "no error";
}

std::string faults_of_file(const std::string& name, const std::string& text) {
  const Folder folder;
  write_file(folder.path / name, text);
  return faults_of(folder.path);
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::string built_in(const std::string& name) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.name == name) return std::string(file.text);
  }
  FAIL(name);
  return {};
}

constexpr const char* kSource =
    "[source]\n"
    "title = \"A title\"\n"
    "edition = \"1\"\n"
    "section = \"2\"\n"
    "precision = \"3\"\n"
    "read = \"judgement\"\n";

TEST_CASE("embedded: the files of data/, byte for byte") {
  const char* given = std::getenv("EVENLEG_SOURCE_DIR");  // set by CTest
  const fs::path source =
      given ? fs::path(given) : fs::path(__FILE__).parent_path().parent_path().parent_path();
  const fs::path data = source / "data";
  REQUIRE(fs::is_directory(data));
  for (const EmbeddedFile& file : embedded_files()) {
    CAPTURE(file.name);
    CHECK(read_file(data / file.name) == file.text);
  }
}

TEST_CASE("data folder: a file in it replaces the built-in one, and no other") {
  const Folder folder;
  write_file(folder.path / "voltage-drop.toml",
             std::string(kSource) + "[limits]\nbranch_percent = 2.5\ntotal_percent = 4\n");
  write_file(folder.path / "notes.toml", "this is = not read");
  const Tables tables = load_tables(folder.path);
  CHECK(tables.voltage_drop.branch_percent == 2.5);
  CHECK(tables.voltage_drop.source.title == "A title");
  CHECK(tables.conductors.size() == load_tables().conductors.size());
}

TEST_CASE("data folder: an empty one changes nothing, an absent one is refused") {
  const Folder folder;
  CHECK(load_tables(folder.path).systems == load_tables().systems);
  CHECK(faults_of(folder.path / "none") ==
        (folder.path / "none").string() +
            ": no such data folder; name a folder that holds data files");
}

TEST_CASE("data file: wiring rules that are missing, twice or unknown") {
  const std::string own = built_in("rules.toml");
  const std::string renamed = "name = \"voltage drop\"";
  CHECK(faults_of_file("rules.toml", replaced(own, renamed, "name = \"voltage dorp\""))
            .find("no wiring rule is called \"voltage dorp\"; correct its name or remove the rule") !=
        std::string::npos);
  CHECK(faults_of_file("rules.toml", replaced(own, renamed, "name = \"voltage dorp\""))
            .find("no entry for \"voltage drop\"; add it") != std::string::npos);
  CHECK(faults_of_file("rules.toml", replaced(own, renamed, "name = \"legs unbalanced\""))
            .find("the rule \"legs unbalanced\" is there twice; remove one") != std::string::npos);
}

TEST_CASE("data file: every one is refused without its source") {
  for (const std::string name :
       {"conductors.toml", "flicker.toml", "load-kinds.toml", "motor-starting.toml",
        "rules.toml", "severities.toml", "spectra.toml", "supply-systems.toml", "voltage-drop.toml",
        "voltage-limits.toml"}) {
    CAPTURE(name);
    const std::string text = replaced(built_in(name), "[source]", "[sauce]");
    const std::string faults = faults_of_file(name, text);
    CHECK(faults.find(name + ":1:1: \"source\" is missing; add it") == 0);
    CHECK(faults.find("unknown key \"sauce\"; remove it or correct its name") != std::string::npos);
  }
}

TEST_CASE("data file: all faults of a file are named, in the order of its text") {
  CHECK(faults_of_file("voltage-drop.toml",
                       "[source]\ntitle = 3\nedition = \"\"\nsection = \"2\"\nread = \"x\"\n"
                       "[limits]\nbranch_percent = -3\nbranches = 2\ntotal_percent = \"5\"\n") ==
        "voltage-drop.toml:1:1: \"precision\" is missing; add it\n"
        "voltage-drop.toml:2:9: \"title\" is not a text in quotes; write a text in quotes\n"
        "voltage-drop.toml:3:11: \"edition\" is empty; fill it in\n"
        "voltage-drop.toml:7:18: \"branch_percent\" is -3; write a number above 0\n"
        "voltage-drop.toml:8:1: unknown key \"branches\"; remove it or correct its name\n"
        "voltage-drop.toml:9:17: \"total_percent\" is not a number; write a number");
  CHECK(faults_of_file("voltage-drop.toml", std::string(kSource) +
                                                "[limits]\nbranch_percent = nan\n"
                                                "total_percent = inf\n") ==
        "voltage-drop.toml:8:18: \"branch_percent\" is not a number; write a number\n"
        "voltage-drop.toml:9:17: \"total_percent\" is not a number; write a number");
}

TEST_CASE("data file: text that is not TOML gives one fault, at its place") {
  const std::string faults = faults_of_file("severities.toml", "# a\nb = = 1\n");
  CHECK(faults.starts_with("severities.toml:2:5: "));
  CHECK(faults.ends_with("; correct the TOML"));
  CHECK(faults.find('\n') == std::string::npos);
}

TEST_CASE("data file: faults of several files are reported together") {
  const Folder folder;
  write_file(folder.path / "voltage-drop.toml", "x = 1\n");
  fs::create_directory(folder.path / "severities.toml");
  CHECK(faults_of(folder.path) ==
        "severities.toml: is a folder, not a file; name a file in it\n"
        "voltage-drop.toml:1:1: \"source\" is missing; add it\n"
        "voltage-drop.toml:1:1: \"limits\" is missing; add it\n"
        "voltage-drop.toml:1:1: unknown key \"x\"; remove it or correct its name");
}

TEST_CASE("data file: values that cannot be are refused, with their place") {
  struct Case {
    const char* file;
    const char* from;
    const char* to;
    const char* fault;  // what follows file:line:column
  };
  const Case kCases[] = {
      {"conductors.toml", "{size = \"12\", reactance_ohm_per_kft",
       "{size = \"13\", reactance_ohm_per_kft",
       "no resistance is given for \"13 Cu\"; correct the size, or add its resistance"},
      {"conductors.toml", "copper_ohm_per_kft = 1.93", "copper_ohm_per_kft = 3.07",
       "\"12 Cu\" has no less resistance than the size before it; order the rows from small to "
       "large conductors"},
      {"conductors.toml", "copper_60_75_90_a = [15, 20, 25]", "copper_60_75_90_a = [15, 20]",
       "\"copper_60_75_90_a\" is not a list of 3 numbers; write a list of 3 numbers"},
      {"conductors.toml", "{rating_a = 110", "{rating_a = 100",
       "the ratings do not rise; order the rows by rating"},
      {"load-kinds.toml", "behaviour = \"filament\"", "behaviour = \"glowing\"",
       "\"glowing\" is not a behaviour; write one of \"resistive\", \"filament\", \"constant "
       "current\", \"constant power\", \"constant power at one voltage\", \"motor\", "
       "\"compressor\", \"surge protector\", \"mixed\""},
      {"load-kinds.toml", "power_factor = 1.0", "power_factor = 1.2",
       "a power factor of 1.2; write at most 1"},
      {"load-kinds.toml", "withstands = 1.10", "withstands = 0.9",
       "0.9 is less than the nameplate volts; write 1 or more, per unit of nameplate volts"},
      {"load-kinds.toml", "withstands_reference = \"iti\"", "withstands_reference = \"itu\"",
       "no reference is named \"itu\"; add [references.itu] or name another"},
      {"load-kinds.toml", "name = \"heating\"", "name = \"Plain\"",
       "two kinds are named \"Plain\"; rename one"},
      {"load-kinds.toml", "name = \"plain\"", "name = \"bare\"",
       "no kind is named \"plain\"; add it: loads without a kind are of that one"},
      {"load-kinds.toml", "withstands_volts = 264", "withstands_volts = 264\nwithstands = 2.2",
       "unknown key \"withstands_volts\"; remove it or correct its name"},
      {"load-kinds.toml", "limits_volts = true", "limits_volts = \"yes\"",
       "\"limits_volts\" is not true or false; write true or false"},
      {"load-kinds.toml", "stalls_below = 0.55", "limits_volts = true\nstalls_below = 0.55",
       "a law that stalls or conducts is per unit of its nameplate; remove limits_volts"},
      {"severities.toml", "from_over = 0\n", "from_over = 0.5\n",
       "the first severity does not start at 0; write 0"},
      {"severities.toml", "from_over = 1.09", "from_over = 1.00",
       "the severities do not rise; order them from mild to severe"},
      {"supply-systems.toml", "split_phase = false", "split_phase = 0",
       "\"split_phase\" is not true or false; write true or false"},
      {"supply-systems.toml", "name = \"L2\"", "name = \"B\"",
       "leg 2 is named \"B\"; name it \"L2\""},
      {"supply-systems.toml", "name = \"120/208 wye\"\nnominal_volts = 120\nsplit_phase = false",
       "name = \"120/208 wye\"\nnominal_volts = 120\nsplit_phase = true",
       "a split-phase system with 3 legs; give two legs, or set split_phase = false"},
      {"supply-systems.toml", "100/200 split-phase", "120/240 split-phase",
       "two systems are named \"120/240 split-phase\"; rename one"},
      {"voltage-limits.toml", "least_volts = 114", "least_volts = 141",
       "141 V at least, 126 V at most; exchange them or correct one"},
  };
  for (const Case& c : kCases) {
    CAPTURE(c.file);
    CAPTURE(c.to);
    const std::string faults = faults_of_file(c.file, replaced(built_in(c.file), c.from, c.to));
    CHECK_MESSAGE(faults.find(std::string(": ") + c.fault) != std::string::npos, faults);
    CHECK(faults.starts_with(std::string(c.file) + ":"));
  }
}

}  // namespace
}  // namespace evenleg
