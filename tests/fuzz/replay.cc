// Gives a fuzz target every file of a folder, without a fuzzer: replay FOLDER. For the target that
// takes too long to compile with one in `check`.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <vector>

#include "evenleg/base/files.h"
#include "tests/fuzz/holds.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int main(int argc, char** argv) {
  namespace fs = std::filesystem;
  evenleg::fuzz::holds(argc == 2, "one folder is named");
  std::vector<fs::path> files;
  for (const fs::path& file : fs::directory_iterator(fs::absolute(argv[1]))) files.push_back(file);
  std::sort(files.begin(), files.end());
  evenleg::fuzz::holds(!files.empty(), "the folder has inputs");
  for (const fs::path& file : files) {
    ::dprintf(STDERR_FILENO, "%s\n", file.filename().c_str());  // the last one is the culprit
    const std::string input = evenleg::read_file(file);
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
  }
  return 0;
}
