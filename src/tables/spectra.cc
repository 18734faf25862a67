#include "evenleg/tables/spectra.h"

#include <fmt/format.h>

#include "evenleg/house/fields.h"
#include "src/tables/readers.h"
#include "src/tables/references.h"

namespace evenleg {

const KindSpectrum* find_spectrum(const std::vector<KindSpectrum>& spectra, std::string_view kind) {
  for (const KindSpectrum& spectrum : spectra) {
    if (spectrum.kind == kind) return &spectrum;
  }
  return nullptr;
}

// A kind that the load table lacks is no fault: either file may be replaced without the other.
void read_spectra(Row& root, Tables& tables) {
  (void)root.citation("source");  // must be there; each spectrum carries its own
  const References references(root);
  for (Row& row : root.rows("spectrum")) {
    KindSpectrum spectrum;
    spectrum.kind = row.text("kind");
    spectrum.source = references.named_by(row, "reference");
    for (int order = kLeastOrder; order <= kMostOrder; ++order) {
      const auto percent = row.number_if(fmt::format("h{}_percent", order), Allowed::NotNegative);
      const auto degrees = row.number_if(fmt::format("h{}_degrees", order), Allowed::Any);
      if (percent) spectrum.lines.push_back({order, *percent, degrees.value_or(0)});
      if (degrees && !percent) {
        row.refuse(fmt::format("h{}_degrees", order), "an angle without a percentage",
                   fmt::format("add h{}_percent", order));
      }
    }
    if (spectrum.lines.empty()) {
      row.refuse("kind", fmt::format("the spectrum of \"{}\" has no order", spectrum.kind),
                 "add one, as h3_percent");
    }
    if (find_spectrum(tables.spectra, spectrum.kind) != nullptr) {
      row.refuse("kind", fmt::format("two spectra are for \"{}\"", spectrum.kind), "remove one");
    }
    row.end();
    tables.spectra.push_back(std::move(spectrum));
  }
  root.end();
}

}  // namespace evenleg
