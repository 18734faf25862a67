// Holds the one-way order of the modules and the fences of third-party headers: every #include of
// include/ and src/ is read and judged against the table below (DEVELOPERS.md, "Modules").
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
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
      {"balance", {"tables", "house", "units", "base"}},
      {"diagnose", {"network", "tables", "house", "units", "base", "Eigen"}},
      {"report",
       {"audit", "balance", "diagnose", "network", "tables", "house", "units", "base", "nlohmann"}},
      {"drawing", {"audit", "balance", "diagnose", "network", "tables", "house", "units", "base"}},
      {"record",
       {"report", "drawing", "audit", "balance", "diagnose", "network", "tables", "house", "units",
        "base", "nlohmann", "xlsxwriter.h"}},
      {"edit", {"house", "units", "base"}},
      {"page",
       {"edit", "record", "report", "audit", "balance", "diagnose", "network", "describe", "store",
        "tables", "house", "units", "base", "nlohmann", "httplib.h"}},
      {"cli",
       {"page", "edit", "record", "report", "audit", "balance", "diagnose", "network", "describe",
        "store", "tables", "house", "units", "base", "CLI", "nlohmann"}}};
  return kAllowed;
}

bool is_allowed(const std::string& module, const std::string& header) {
  const auto found = allowed().find(module);
  if (found == allowed().end()) return false;
  const std::string first = header.substr(0, header.find('/'));
  if (first == "evenleg" || first == "src") {  // evenleg/<module>/… or src/<module>/…
    const std::string rest = header.substr(std::min(header.size(), first.size() + 1));
    const std::string other = rest.substr(0, rest.find('/'));
    if (other == module) return true;
    // The demonstration house is built in beside the tables.
    if (module == "cli" && header == "src/tables/embedded.h") return true;
    return first == "evenleg" && found->second.count(other) > 0;
  }
  if (found->second.count(first) > 0) return true;
  const bool of_the_system =
      first == header ? header != "sqlite3.h" && header != "xlsxwriter.h" && header != "httplib.h" : first == "sys";
  return of_the_system || first == "fmt";
}

fs::path source_folder() {
  const char* given = std::getenv("EVENLEG_SOURCE_DIR");
  return given ? fs::path(given) : fs::path(__FILE__).parent_path().parent_path();
}

// The header that a line includes; "" when it includes none.
std::string included(const std::string& line) {
  std::size_t at = line.find_first_not_of(" \t");
  if (at == std::string::npos || line[at] != '#') return "";
  at = line.find_first_not_of(" \t", at + 1);
  if (at == std::string::npos || line.compare(at, 7, "include") != 0) return "";  // 7 letters
  const std::size_t open = line.find_first_of("<\"", at);
  const std::size_t close = line.find_first_of(">\"", open == std::string::npos ? open : open + 1);
  return close == std::string::npos ? "" : line.substr(open + 1, close - open - 1);
}

// Judges the includes of every file below `root`, whose folders are the modules; gives their count.
int judge_includes(const fs::path& root) {
  int count = 0;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(root)) {
    const fs::path& file = entry.path();
    if (file.extension() != ".h" && file.extension() != ".cc") continue;
    const std::string module = file.lexically_relative(root).begin()->string();
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
      const std::string header = included(line);
      if (header.empty()) continue;
      ++count;
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

TEST_CASE("an include is read off its line") {
  CHECK(included("#include <vector>") == "vector");
  CHECK(included("  # include \"src/cli/edit.h\"  // why") == "src/cli/edit.h");
  CHECK(included("// #include <regex>").empty());
  CHECK(included("#pragma once").empty());
  CHECK(included("").empty());
}

TEST_CASE("the judge of an include can say no") {
  CHECK(is_allowed("audit", "evenleg/network/solve.h"));
  CHECK_FALSE(is_allowed("network", "evenleg/audit/audit.h"));      // upwards
  CHECK_FALSE(is_allowed("balance", "evenleg/network/solve.h"));    // a sibling
  CHECK_FALSE(is_allowed("store", "evenleg/describe/describe.h"));  // a sibling
  CHECK_FALSE(is_allowed("report", "src/audit/search.h"));          // private to another module
  CHECK(is_allowed("cli", "src/tables/embedded.h"));
  CHECK_FALSE(is_allowed("cli", "src/tables/data_file.h"));
  CHECK(is_allowed("store", "sqlite3.h"));
  CHECK_FALSE(is_allowed("cli", "sqlite3.h"));
  CHECK(is_allowed("record", "xlsxwriter.h"));
  CHECK_FALSE(is_allowed("cli", "xlsxwriter.h"));
  CHECK_FALSE(is_allowed("report", "evenleg/drawing/drawing.h"));  // a sibling
  CHECK_FALSE(is_allowed("report", "Eigen/Core"));
  CHECK_FALSE(is_allowed("house", "toml++/toml.h"));
  CHECK_FALSE(is_allowed("base", "boost/regex.hpp"));  // no fence: not known
  CHECK(is_allowed("base", "fmt/format.h"));
  CHECK(is_allowed("base", "sys/stat.h"));
  CHECK_FALSE(is_allowed("data", "vector"));  // not a module
}
