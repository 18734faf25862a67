// Any bytes either read as a house, which then survives being written and read again and can be
// wired, or are refused with an Error that tells a fault: nothing else leaves the reader.
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/wiring.h"
#include "evenleg/tables/tables.h"
#include "tests/fuzz/holds.h"

using namespace evenleg;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Vocabulary kWords = vocabulary(load_tables());
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  House house;
  try {
    house = read_description(text, "fuzz", kWords);
  } catch (const Error& error) {
    fuzz::holds(error.kind() == ErrorKind::Request && !error.faults().empty(), "told as faults");
    return 0;
  }
  // Not inside the try: a house that was read must read again.
  const std::string written = write_description(house);
  const House again = read_description(written, "written", kWords);
  fuzz::holds(again == house, "the same house when read again");
  fuzz::holds(write_description(again) == written, "the same text when written again");
  const Wiring wiring = wire(house, *find_system(kWords, house.supply.system));
  fuzz::holds(wiring.loads.size() == house.loads.size(), "every load is wired");
  return 0;
}
