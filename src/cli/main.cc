// The program is run() of src/cli/run.h. Here is what may still go wrong outside of any command: an
// output that cannot be written, want of memory, a fault of this program.
#include <signal.h>

#include <cstdio>
#include <exception>
#include <new>

#include "src/cli/exit_status.h"
#include "src/cli/run.h"

int main(int argc, char** argv) {
  using evenleg::complain;
  // A file that may not grow any further is a failed write, which is told, not a signal.
  ::signal(SIGXFSZ, SIG_IGN);
  try {
    const int status = evenleg::run(argc, argv);
    if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return status;
    complain({"standard output", "cannot be written", "check the disk, or where it leads"});
    return evenleg::kWrongFile;
  } catch (const std::bad_alloc&) {
    complain({"evenleg", "not enough memory for this house", "close other programs or split it"});
  } catch (const std::exception& fault) {
    complain({"internal fault", fault.what(), "report it with the command and the house"});
  }
  return evenleg::kWrongFile;
}
