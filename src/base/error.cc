#include "evenleg/base/error.h"

#include <utility>

namespace evenleg {
namespace {

std::string on_one_line(std::string text) {
  for (char& c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) c = ' ';
  }
  return text;
}

std::string all_lines(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) text += (text.empty() ? "" : "\n") + line(fault);
  return text;
}

}  // namespace

std::string line(const Fault& fault) {
  std::string text = fault.where.empty() ? fault.what : fault.where + ": " + fault.what;
  if (!fault.remedy.empty()) text += "; " + fault.remedy;
  return on_one_line(std::move(text));
}

Error::Error(ErrorKind kind, std::vector<Fault> faults)
    : std::runtime_error(all_lines(faults)), kind_(kind), faults_(std::move(faults)) {}

Error::Error(ErrorKind kind, Fault fault)
    : Error(kind, std::vector<Fault>{std::move(fault)}) {}

}  // namespace evenleg
