// Run while building: write_guides FOLDER writes the manual page and the completion for bash.
#include <cstdio>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "src/cli/bash_completion.h"
#include "src/cli/man_page.h"

int main(int argc, char** argv) {
  constexpr int kWrong = 2;
  if (argc != 2) {
    std::fputs("usage: write_guides FOLDER\n", stderr);
    return kWrong;
  }
  try {
    const std::filesystem::path folder = argv[1];
    const evenleg::CommandEntry program = evenleg::command_tree();
    evenleg::write_file(folder / "evenleg.1", evenleg::man_page(program));
    evenleg::write_file(folder / "evenleg.bash", evenleg::bash_completion(program));
  } catch (const evenleg::Error& error) {
    for (const evenleg::Fault& fault : error.faults()) {
      std::fprintf(stderr, "write_guides: %s\n", evenleg::line(fault).c_str());
    }
    return kWrong;
  }
  return 0;
}
