// House files that a stranger could have made: a sound one with some of its cells, its schema and
// its bytes changed, as a string of bytes says.
//
// SQLite refuses nearly all files of random bytes at once. The bytes of an input are therefore read
// as edits of a sample, which reach what stands behind SQLite's own checks.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace evenleg::fuzz {

struct SampleTable {
  std::string name;
  std::vector<std::string> columns;
};

struct Sample {
  std::string bytes;  // of the file
  std::vector<SampleTable> tables;
};

// One of the present version; the same without types and checks, as no evenleg would write it; one
// of version 1 without types and checks. Made in `folder`.
[[nodiscard]] std::vector<Sample> make_samples(const std::string& folder);

// The bytes of a file: `input` itself where it starts as an SQLite database, else a sample (chosen
// by the first byte) with edits (the rest).
[[nodiscard]] std::string edited_file(std::span<const Sample> samples,
                                      std::span<const std::uint8_t> input);

}  // namespace evenleg::fuzz
