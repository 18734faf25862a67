#include "src/cli/added_load.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/house/wiring.h"

namespace evenleg {
namespace {

constexpr double kMostVa = 1e6;  // as for a load of the description

[[noreturn]] void refuse(std::string what, std::string remedy) {
  throw Error(ErrorKind::Request, {"--add", std::move(what), std::move(remedy)});
}

std::string trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return "";
  return std::string(text.substr(first, text.find_last_not_of(' ') - first + 1));
}

double line_volts(const House& house, const Tables& tables) {
  for (const SupplySystem& system : tables.systems) {
    if (system.name == house.supply.system && system.legs.size() > 1) {
      return std::round(nominal_volts(system, 0, 1));
    }
  }
  return 0;  // demand() refuses such a supply
}

double va_of(const std::string& rating, double volts) {
  double value = 0;
  const char* end = rating.data() + rating.size();
  const auto [rest, fault] = std::from_chars(rating.data(), end, value);
  const std::string unit = trimmed({rest, static_cast<std::size_t>(end - rest)});
  const bool is_number = fault == std::errc() && std::isfinite(value);
  double each = 0;
  if (unit == "W" || unit == "VA") each = 1;
  if (unit == "kW" || unit == "kVA") each = 1000;
  if (unit == "A") each = volts;
  if (!is_number || each == 0) {
    refuse(fmt::format("\"{}\" is no rating", rating), "write a number and W, VA, kW, kVA or A");
  }
  const double va = value * each;
  if (!(va > 0) || va > kMostVa) {
    refuse(fmt::format("\"{}\" is {} VA", rating, exact(va)),
           fmt::format("write a rating above 0 and at most {} VA", fixed(kMostVa, 0)));
  }
  return va;
}

}  // namespace

AddedLoad added_load(std::string_view text, const House& house, const Tables& tables) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos) {
    refuse(fmt::format("\"{}\" has no rating", text), "write NAME=RATING: \"EV charger=9600 W\"");
  }
  AddedLoad load;
  load.name = trimmed(text.substr(0, equals));
  const LoadKind* kind = find_kind(tables, load.name);
  const std::optional<std::string> category = demand_category(load.name);
  if (!category && kind == nullptr) {
    refuse(fmt::format("\"{}\" is neither a category nor a kind of load", load.name),
           fmt::format("name one of: {}", fmt::join(demand_categories(), ", ")));
  }
  load.category = category ? *category : kind->demand;
  if (load.category == "general" || load.category == "not counted") {
    refuse(fmt::format("\"{}\" counts nothing of its own", load.name),
           "name the category that it is to count as, such as \"fastened appliance\"");
  }
  load.va = va_of(trimmed(text.substr(equals + 1)), line_volts(house, tables));
  return load;
}

}  // namespace evenleg
