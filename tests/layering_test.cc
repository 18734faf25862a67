// Holds the one-way order of the modules and the fences of third-party headers: every #include of
// include/ and src/ is read and judged against the table below (DEVELOPERS.md, "Modules").
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>

namespace {

namespace fs = std::filesystem;

// What a module may include beside itself: modules below it, and the first part of the names of
// fenced headers. Standard and POSIX headers and fmt are free; any other library is refused.
const std::map<std::string, std::set<std::string>>& allowed() {
  static const std::map<std::string, std::set<std::string>> kAllowed{
      {"base", {}},
      {"units", {"base"}},
      {"house", {"units", "base"}},
      {"tables", {"house", "units", "base", "toml++"}},
      {"describe", {"house", "units", "base", "toml++"}},
      {"store", {"house", "units", "base", "SQLiteCpp", "sqlite3.h"}},
      {"network", {"tables", "house", "units", "base", "Eigen"}},
      {"audit", {"network", "tables", "house", "units", "base", "Eigen"}},
      {"report", {"audit", "network", "tables", "house", "units", "base", "nlohmann"}},
      {"cli",
       {"report", "audit", "network", "describe", "store", "tables", "house", "units", "base",
        "CLI", "nlohmann"}}};
  return kAllowed;
}

bool is_allowed(const std::string& module, const std::string& header) {
  const auto found = allowed().find(module);
  if (found == allowed().end()) return false;
  static const std::regex kOurs("(evenleg|src)/([^/]+)/.*");
  std::smatch parts;
  if (std::regex_match(header, parts, kOurs)) {
    if (parts[2] == module) return true;
    // The demonstration house is built in beside the tables.
    if (module == "cli" && header == "src/tables/embedded.h") return true;
    return parts[1] == "evenleg" && found->second.count(parts[2]) > 0;
  }
  const std::string first = header.substr(0, header.find('/'));
  if (found->second.count(first) > 0) return true;
  const bool of_the_system = first == header ? header != "sqlite3.h" : first == "sys";
  return of_the_system || first == "fmt";
}

fs::path source_folder() {
  const char* given = std::getenv("EVENLEG_SOURCE_DIR");
  return given ? fs::path(given) : fs::path(__FILE__).parent_path().parent_path();
}

// Judges the includes of every file below `root`, whose folders are the modules; gives their count.
int judge_includes(const fs::path& root) {
  static const std::regex kInclude("\\s*#\\s*include\\s*[<\"]([^>\"]+)[>\"].*");
  int count = 0;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(root)) {
    const fs::path& file = entry.path();
    if (file.extension() != ".h" && file.extension() != ".cc") continue;
    const std::string module = file.lexically_relative(root).begin()->string();
    std::ifstream in(file);
    std::smatch parts;
    for (std::string line; std::getline(in, line);) {
      if (!std::regex_match(line, parts, kInclude)) continue;
      ++count;
      const std::string header = parts[1];
      CHECK_MESSAGE(is_allowed(module, header), file.string() << " includes " << header);
    }
  }
  return count;
}

}  // namespace

TEST_CASE("every include follows the order of the modules") {
  constexpr int kFewest = 100;  // of each folder; less was not a look at the whole
  CHECK(judge_includes(source_folder() / "include" / "evenleg") >= kFewest);
  CHECK(judge_includes(source_folder() / "src") >= kFewest);
}

TEST_CASE("the judge of an include can say no") {
  CHECK(is_allowed("audit", "evenleg/network/solve.h"));
  CHECK_FALSE(is_allowed("network", "evenleg/audit/audit.h"));   // upwards
  CHECK_FALSE(is_allowed("store", "evenleg/describe/describe.h"));  // a sibling
  CHECK_FALSE(is_allowed("report", "src/audit/search.h"));       // private to another module
  CHECK(is_allowed("cli", "src/tables/embedded.h"));
  CHECK_FALSE(is_allowed("cli", "src/tables/data_file.h"));
  CHECK(is_allowed("store", "sqlite3.h"));
  CHECK_FALSE(is_allowed("cli", "sqlite3.h"));
  CHECK_FALSE(is_allowed("report", "Eigen/Core"));
  CHECK_FALSE(is_allowed("house", "toml++/toml.h"));
  CHECK_FALSE(is_allowed("base", "boost/regex.hpp"));            // no fence: not known
  CHECK(is_allowed("base", "fmt/format.h"));
  CHECK(is_allowed("base", "sys/stat.h"));
  CHECK_FALSE(is_allowed("data", "vector"));                     // not a module
}
