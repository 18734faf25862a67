#include "evenleg/house/load_words.h"

#include <fmt/format.h>

#include "evenleg/base/format.h"

namespace evenleg {

std::string rating_text(const Load& load) {
  std::string text;
  if (load.watts) text = exact(*load.watts) + " W";
  if (load.va) text = exact(*load.va) + " VA";
  if (load.amps) text = exact(*load.amps) + " A";
  if (load.ohms) text = exact(*load.ohms) + " ohms";
  if (load.measured_amps) text = exact(*load.measured_amps) + " A measured";
  if (load.volts) text += fmt::format(" at {} V", exact(*load.volts));
  return text;
}

std::string state_text(const Load& load) {
  const std::string found = load.on ? "on" : "off";
  const bool says_it_all = load.switching == "always " + found;
  std::string text = says_it_all ? load.switching : found;
  if (!says_it_all && load.switching != "free") text += ", " + load.switching;
  return load.noncoincident ? fmt::format("{} ({})", text, *load.noncoincident) : text;
}

}  // namespace evenleg
