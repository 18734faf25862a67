#include "evenleg/edit/units.h"

#include <algorithm>
#include <cctype>
#include <vector>

#include "evenleg/base/trimmed.h"

namespace evenleg {
namespace {

struct Unit {
  std::string_view word;           // in small letters
  std::string_view exponent = "";  // of ten, to the key's own unit
  char first = '\0';               // where a capital would be another prefix: "mA", "MΩ"
};

// Of the keys that end so.
struct UnitsOfKey {
  std::string_view ending;
  std::vector<Unit> units;
};

const std::vector<UnitsOfKey>& all_units() {
  static const std::vector<Unit> kAmps{{"a"},
                                       {"aac"},
                                       {"a ac"},
                                       {"amp"},
                                       {"amps"},
                                       {"ampere"},
                                       {"amperes"},
                                       {"ma", "e-3", 'm'},
                                       {"milliamps", "e-3"}};
  // The letter omega and the sign of the unit, which are two characters; neither has a small letter
  // in ASCII, and so each stands here as it is typed.
  static const std::vector<Unit> kOhms{{"ohm"},
                                       {"ohms"},
                                       {"\u03a9"},
                                       {"\u2126"},
                                       {"kohm", "e3"},
                                       {"k\u03a9", "e3"},
                                       {"k\u2126", "e3"},
                                       {"mohm", "e-3", 'm'},
                                       {"m\u03a9", "e-3", 'm'},
                                       {"m\u2126", "e-3", 'm'},
                                       {"mohm", "e6", 'M'},
                                       {"m\u03a9", "e6", 'M'},
                                       {"m\u2126", "e6", 'M'},
                                       {"milliohms", "e-3"},
                                       {"megohm", "e6"},
                                       {"megohms", "e6"}};
  static const std::vector<UnitsOfKey> kAll{
      {"_a", kAmps},
      {"amps", kAmps},
      {"volts",
       {{"v"},
        {"vac"},
        {"v ac"},
        {"volt"},
        {"volts"},
        {"kv", "e3"},
        {"mv", "e-3", 'm'},
        {"millivolts", "e-3"}}},
      {"watts", {{"w"}, {"watt"}, {"watts"}, {"kw", "e3"}}},
      {"ohms", kOhms},
      {"kva", {{"kva"}}},
      {"va", {{"va"}, {"kva", "e3"}}},
      {"_ft", {{"ft"}, {"ft."}, {"foot"}, {"feet"}, {"'"}, {"\u2032"}}},
      {"_m", {{"m"}, {"metre"}, {"metres"}, {"meter"}, {"meters"}}},
      {"_ft2", {{"ft2"}, {"ft\u00b2"}, {"sq ft"}, {"sq. ft."}, {"sqft"}}},
      {"_m2", {{"m2"}, {"m\u00b2"}}},
      {"percent", {{"%"}, {"percent"}}},
      {"horsepower", {{"hp"}}},
  };
  return kAll;
}

const std::vector<Unit>* units_of(std::string_view key) {
  for (const UnitsOfKey& one : all_units()) {
    if (key.ends_with(one.ending)) return &one.units;
  }
  return nullptr;
}

std::size_t length_of_number(std::string_view text) {
  const std::size_t sign = text.starts_with('-') ? 1 : 0;
  return std::min(text.find_first_not_of("0123456789.", sign), text.size());
}

}  // namespace

std::optional<std::string> number_without_unit(std::string_view key, std::string_view text) {
  const std::string_view typed = trimmed(text);
  const std::size_t length = length_of_number(typed);
  const std::string_view rest = trimmed(typed.substr(length));
  const std::vector<Unit>* units = units_of(key);
  if (units == nullptr || length == 0 || rest.empty()) return std::nullopt;
  std::string word(rest);
  for (char& c : word) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (const Unit& unit : *units) {
    if (word != unit.word || (unit.first != '\0' && rest.front() != unit.first)) continue;
    return std::string(typed.substr(0, length)).append(unit.exponent);
  }
  return std::nullopt;
}

}  // namespace evenleg
