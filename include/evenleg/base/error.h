// The one exception of the program: a request, a description or a file that cannot be used.
//
// Thrown where the fault is found, caught once, in `main`, which prints one line for each fault
// ("evenleg: WHERE: WHAT IS WRONG; WHAT TO DO") and exits with the status of its kind.
// Numeric outcomes (a singular system, a search cut short) are not errors; they are a status in the
// result that they concern.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace evenleg {

enum class ErrorKind {
  Request,  // the command line or the description is wrong: exit status 2
  File,     // a house file cannot be read or written: exit status 3
};

// One thing that is wrong. All three texts are sentences' parts without a final full stop.
struct Fault {
  std::string where;   // "kitchen.toml:12:9", "Fernhill.house", "--json"
  std::string what;    // what was found, with the value
  std::string remedy;  // what to do about it; may be empty

  bool operator==(const Fault&) const = default;
};

// "WHERE: WHAT; REMEDY" on one line: line ends and control characters inside are shown as spaces.
[[nodiscard]] std::string line(const Fault& fault);

class Error : public std::runtime_error {
 public:
  Error(ErrorKind kind, std::vector<Fault> faults);
  Error(ErrorKind kind, Fault fault);

  [[nodiscard]] ErrorKind kind() const { return kind_; }
  [[nodiscard]] const std::vector<Fault>& faults() const { return faults_; }

 private:
  ErrorKind kind_;
  std::vector<Fault> faults_;
};

}  // namespace evenleg
