// Neutrals and breakers against what their conductors may carry.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "evenleg/base/format.h"
#include "src/audit/findings.h"

namespace evenleg {
namespace {

// Standard ratings of overcurrent devices up to 500 A, NEC 240.6(A), from memory.
constexpr std::array<double, 25> kStandardRatings = {15,  20,  25,  30,  35,  40,  45,  50, 60,
                                                     70,  80,  90,  100, 110, 125, 150, 175, 200,
                                                     225, 250, 300, 350, 400, 450, 500};

// The next standard rating up from an ampacity that is none itself, NEC 240.4(B), from memory.
double next_standard(double ampacity) {
  const auto* next = std::lower_bound(kStandardRatings.begin(), kStandardRatings.end(), ampacity);
  return next == kStandardRatings.end() ? ampacity : *next;
}

bool is_metric(const Conductor& conductor) {
  return conductor.name.find("mm2") != std::string::npos;
}

// The largest breaker that a conductor is usually given, and by what rule.
std::optional<std::pair<double, std::string>> usual_breaker(const Conductor& conductor,
                                                            bool whole_dwelling) {
  if (whole_dwelling && conductor.dwelling_service_limit) {
    return std::pair{*conductor.dwelling_service_limit, std::string("NEC table 310.12")};
  }
  if (conductor.small_conductor_limit) {
    return std::pair{*conductor.small_conductor_limit, std::string("NEC 240.4(D)")};
  }
  if (!conductor.ampacity) return std::nullopt;
  if (is_metric(conductor)) return std::pair{*conductor.ampacity, short_form(conductor.ampacity_source)};
  return std::pair{next_standard(*conductor.ampacity),
                   std::string("NEC table 310.16, 75 °C, next standard rating (240.4(B))")};
}

void check_breaker(const Seen& seen, const std::string& subject, const std::string& what,
                   const std::optional<double>& breaker, const Run& run, bool whole_dwelling,
                   std::vector<WiringFinding>& findings) {
  if (!breaker || !run.conductor) return;
  const Conductor* conductor = find_conductor(seen.tables, *run.conductor);
  if (conductor == nullptr) return;
  const auto most = usual_breaker(*conductor, whole_dwelling);
  if (!most || *breaker <= most->first) return;
  findings.push_back(
      {"breaker beyond the conductor", FindingSeverity::Danger, subject,
       fmt::format("{} \"{}\" has a {} A breaker on {}, which is usually limited to {} A: the conductor "
                   "can overheat before the breaker opens. Motors, cooling equipment and some other "
                   "loads have rules of their own; a licensed electrician should look at it.",
                   what, subject, figure(*breaker), conductor->name, figure(most->first)),
       most->second});
}

void check_neutral(const NeutralRow& row, std::vector<WiringFinding>& findings) {
  if (!row.rated_amps || !row.highest) return;
  if (row.highest->value <= *row.rated_amps) return;
  const bool now = row.amps > *row.rated_amps;
  findings.push_back(
      {"neutral beyond its ampacity", now ? FindingSeverity::Danger : FindingSeverity::Caution,
       row.place,
       fmt::format("The neutral at \"{}\" can carry {} A with every neutral sound ({} A as found); its "
                   "ampacity is {} A, and no breaker watches it. A licensed electrician should look at "
                   "how its circuits are paired.",
                   row.place, figure(row.highest->value.si()), figure(row.amps.si()),
                   figure(row.rated_amps->si())),
       row.rated_source});
}

}  // namespace

void find_overloads(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (const NeutralRow& row : seen.neutrals) check_neutral(row, findings);
  const House& house = seen.house;
  if (house.service) {
    check_breaker(seen, "service", "The", house.service->breaker_a, house.service->run, true,
                  findings);
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) {
    check_breaker(seen, house.panels[p].name, "The feeder of", house.panels[p].breaker_a,
                  house.panels[p].run, false, findings);
  }
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    const Circuit& circuit = house.circuits[c];
    const Cable& cable = seen.wiring.cables[static_cast<std::size_t>(seen.wiring.circuit_cable[c])];
    std::set<std::string> looked_at;  // each conductor of the circuit once, thin ones far out too
    for (const Box& box : cable.boxes) {
      const bool carries = std::any_of(box.hots.begin(), box.hots.end(), [&](int hot) {
        return cable.hots[static_cast<std::size_t>(hot)].circuit == static_cast<int>(c);
      });
      if (!carries || !box.run.conductor || !looked_at.insert(*box.run.conductor).second) continue;
      check_breaker(seen, circuit.name, "Circuit", circuit.breaker_a, box.run, false, findings);
    }
  }
}

}  // namespace evenleg
