// Small houses with one fault each, for the tests of the wiring rules.
#pragma once

#include <string>
#include <string_view>

#include "tests/audit/described_audit.h"

namespace evenleg {

// The house of `own`, a description without [house] and [supply]. Its inline tables may be broken
// over lines. `supply` is the inside of the supply's table. Every finding is put to check_words().
[[nodiscard]] DescribedAudit house_with(
    std::string_view own, std::string_view supply = R"(system = "120/240 split-phase")");

// No text says why something is so, that something may be relied on, or has an occupant open a
// panel; its three parts make it up, and it has a source.
void check_words(const WiringFinding& finding);

// The only finding of a rule.
[[nodiscard]] WiringFinding only_finding(const DescribedAudit& described, std::string_view rule);
[[nodiscard]] bool lacks(const DescribedAudit& described, std::string_view rule);
[[nodiscard]] bool cites(const WiringFinding& finding, std::string_view words);

// Two circuits on one neutral, the second on `leg`; `keys` belong to the multiwire.
[[nodiscard]] std::string multiwire(double first_amps, double second_amps, std::string_view leg,
                                    std::string_view keys);

}  // namespace evenleg
