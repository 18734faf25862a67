// data/spectra.toml, against figures kept here from its sources.
#include "evenleg/tables/spectra.h"

#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/tables/tables.h"
#include "tests/check.h"

namespace evenleg {
namespace {

double percent(const Tables& tables, std::string_view kind, int order) {
  const KindSpectrum* spectrum = find_spectrum(tables.spectra, kind);
  REQUIRE(spectrum != nullptr);
  for (const SpectrumLine& line : spectrum->lines) {
    if (line.order == order) return line.percent;
  }
  return 0;
}

double distortion_percent(const KindSpectrum& spectrum) {
  double squares = 0;
  for (const SpectrumLine& line : spectrum.lines) squares += line.percent * line.percent;
  return std::sqrt(squares);
}

TEST_CASE("spectra: each is of a known kind, in order, and says where it comes from") {
  const Tables tables = load_tables();
  CHECK_FALSE(tables.spectra.empty());
  for (const KindSpectrum& spectrum : tables.spectra) {
    CAPTURE(spectrum.kind);
    CHECK(find_kind(tables, spectrum.kind) != nullptr);
    CHECK_FALSE(spectrum.source.title.empty());
    CHECK_FALSE(spectrum.source.read.empty());
    int last = 1;
    for (const SpectrumLine& line : spectrum.lines) {
      CHECK(line.order > last);
      last = line.order;
      CHECK(line.percent > 0);
      CHECK(std::abs(line.degrees) <= 180);
    }
  }
}

TEST_CASE("spectra: elements and plain loads draw the fundamental alone") {
  const Tables tables = load_tables();
  for (const char* kind : {"plain", "heating", "incandescent", "halogen", "space heater", "kettle",
                           "water heater", "toaster", "iron", "motor"}) {
    REQUIRE(find_kind(tables, kind) != nullptr);
    CHECK(find_spectrum(tables.spectra, kind) == nullptr);
  }
}

// Open waveform records: laptop 32.1 % at 34 degrees, 17.3 % at -72; refrigerator 9.7 % at -112;
// television with correction 0.7 and 1.4 %. Masters: compact fluorescent 80, 53, 20, 13 %, THD 99
// %.
TEST_CASE("spectra: as their sources print them") {
  const Tables tables = load_tables();
  const KindSpectrum* laptop = find_spectrum(tables.spectra, "laptop charger");
  REQUIRE(laptop != nullptr);
  CHECK(laptop->lines[0] == SpectrumLine{3, 32.1, 34});
  CHECK(laptop->lines[1] == SpectrumLine{5, 17.3, -72});
  CHECK(percent(tables, "refrigerator", 3) == 9.7);
  CHECK(percent(tables, "television", 5) == 1.4);
  CHECK(percent(tables, "computer", 3) == 81);
  CHECK(percent(tables, "microwave", 3) == 30);
  const KindSpectrum* lamp = find_spectrum(tables.spectra, "cfl");
  REQUIRE(lamp != nullptr);
  CHECK(matches_printed(distortion_percent(*lamp), "99"));
}

}  // namespace
}  // namespace evenleg
