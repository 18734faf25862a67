// Texts and files damaged as hands, editors, disks and mail damage them.
#pragma once

#include <random>
#include <string>

namespace evenleg::hardening {

using Dice = std::mt19937_64;

// One to four slips in a description: bytes, lines, values, names, brackets, cuts.
[[nodiscard]] std::string damaged_text(std::string text, Dice& dice);

// Flipped bits, bytes and pages, cuts, pages that changed places, other bytes at the end.
[[nodiscard]] std::string damaged_file(std::string bytes, Dice& dice);

}  // namespace evenleg::hardening
