// What the tests of the page share: a house file of their own, and the tables.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <string>

#include "evenleg/describe/describe.h"
#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"

namespace evenleg::page_test {

inline const Tables& tables() {
  static const Tables kTables = load_tables();
  return kTables;
}

// Two circuits on one multiwire, a two-pole circuit, one circuit alone.
inline constexpr const char* kSmallHouse = R"(
format = 1
house = {name = "Weir Lodge"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 12}]
circuit = [{name = "Left", space = 1, breaker_a = 20}, {name = "Right", space = 3, breaker_a = 20},
           {name = "Dryer", space = 2, poles = 2, breaker_a = 30},
           {name = "Den", space = 5, breaker_a = 15, conductor = "14 Cu", length_ft = 40}]
multiwire = [{name = "Counter", circuits = ["Left", "Right"], common_disconnect = true}]
outlet = [{name = "By the sink", on = "Left"}, {name = "By the range", on = "Right"}]
load = [{name = "Kettle", at = "By the sink", watts = 1200},
        {name = "Lamp", at = "By the range", watts = 60},
        {name = "Drum lamp", at = "Dryer", connect = "L1-N", watts = 15},
        {name = "Heater", at = "Den", kind = "heating", watts = 1000, on = false}]
)";

// A house file in a folder of its own, both gone at the end.
class HouseFile {
 public:
  explicit HouseFile(const std::string& description = kSmallHouse) {
    std::string name = (std::filesystem::temp_directory_path() / "evenleg-page-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    folder_ = name;
    create_house_file(path(), read_description(description, "test", vocabulary(tables())));
  }
  HouseFile(const HouseFile&) = delete;
  HouseFile& operator=(const HouseFile&) = delete;
  ~HouseFile() { std::filesystem::remove_all(folder_); }

  [[nodiscard]] std::filesystem::path path() const { return folder_ / "weir.house"; }

 private:
  std::filesystem::path folder_;
};

}  // namespace evenleg::page_test
