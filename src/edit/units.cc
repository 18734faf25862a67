#include "evenleg/edit/units.h"

#include <algorithm>
#include <cctype>
#include <vector>

namespace evenleg {
namespace {

struct Unit {
  std::string_view word;           // in small letters
  std::string_view exponent = "";  // of ten, to the key's own unit
};

// Of the keys that end so.
struct UnitsOfKey {
  std::string_view ending;
  std::vector<Unit> units;
};

const std::vector<UnitsOfKey>& all_units() {
  static const std::vector<Unit> kAmps{{"a"},       {"aac"},       {"a ac"},
                                       {"amp"},     {"amps"},      {"ampere"},
                                       {"amperes"}, {"ma", "e-3"}, {"milliamps", "e-3"}};
  static const std::vector<Unit> kPercent{{"%"}, {"percent"}};
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
        {"mv", "e-3"},
        {"millivolts", "e-3"}}},
      {"watts", {{"w"}, {"watt"}, {"watts"}, {"kw", "e3"}}},
      {"ohms", {{"ohm"}, {"ohms"}, {"\u03a9"}, {"\u2126"}, {"mohm", "e-3"}, {"m\u03a9", "e-3"}}},
      {"kva", {{"kva"}}},
      {"va", {{"va"}, {"kva", "e3"}}},
      {"_ft", {{"ft"}, {"ft."}, {"foot"}, {"feet"}, {"'"}, {"\u2032"}}},
      {"_m", {{"m"}, {"metre"}, {"metres"}, {"meter"}, {"meters"}}},
      {"_ft2", {{"ft2"}, {"ft\u00b2"}, {"sq ft"}, {"sq. ft."}, {"sqft"}}},
      {"_m2", {{"m2"}, {"m\u00b2"}}},
      {"percent", kPercent},
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

bool in_number(char c) {
  return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '-';
}

}  // namespace

std::string number_without_unit(std::string_view key, std::string_view text) {
  const std::vector<Unit>* units = units_of(key);
  const auto* const end = std::find_if_not(text.begin(), text.end(), in_number);
  const std::string_view number(text.begin(), static_cast<std::size_t>(end - text.begin()));
  std::string_view rest = text.substr(number.size());
  while (rest.starts_with(' ')) rest.remove_prefix(1);
  while (rest.ends_with(' ')) rest.remove_suffix(1);
  if (units == nullptr || number.empty() || rest.empty()) return std::string(text);
  std::string word(rest);
  for (char& c : word) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (const Unit& unit : *units) {
    // A capital omega has no small letter in ASCII, and so stands in the table as it is typed.
    if (word == unit.word) return std::string(number).append(unit.exponent);
  }
  return std::string(text);
}

}  // namespace evenleg
