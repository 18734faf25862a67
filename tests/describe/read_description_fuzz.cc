// Any bytes either read as a house, which then survives being written and read again, or are
// refused with an Error: nothing else leaves the reader.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "tests/describe/small_vocabulary.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const evenleg::Vocabulary kWords = evenleg::small_vocabulary();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  evenleg::House house;
  try {
    house = evenleg::read_description(text, "fuzz", kWords);
  } catch (const evenleg::Error& error) {
    if (error.faults().empty()) std::abort();
    return 0;
  }
  // Not inside the try: a house that was read must read again.
  const std::string written = evenleg::write_description(house);
  if (!(evenleg::read_description(written, "written", kWords) == house)) std::abort();
  return 0;
}
