// The harmonics that a kind of load draws when nothing else is said: data/spectra.toml.
//
// Percent of the fundamental, by harmonic order; angles in degrees, arg(I_h) - h arg(V_1), the
// voltage's fundamental being cos(wt). A kind without a row draws the fundamental alone.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"

namespace evenleg {

struct SpectrumLine {
  int order = 0;  // 2 or more
  double percent = 0;
  double degrees = 0;

  bool operator==(const SpectrumLine&) const = default;
};

struct KindSpectrum {
  std::string kind;
  std::vector<SpectrumLine> lines;  // ascending in order
  Citation source;
};

// The spectrum of that kind, by its name as the load table writes it; nullptr: none.
[[nodiscard]] const KindSpectrum* find_spectrum(const std::vector<KindSpectrum>& spectra,
                                                std::string_view kind);

}  // namespace evenleg
