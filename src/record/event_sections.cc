#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/network/places.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

struct Exposed {
  int load = 0;
  double least = 0, most = 0;
  std::optional<double> withstands;

  bool too_low = false;  // a motor far below its nameplate volts

  [[nodiscard]] bool past() const { return withstands && most > *withstands; }
};

constexpr const char* kNoneAbove =
    "By calculation none of the loads described goes past what it withstands. What is not "
    "described "
    "was not looked at, and low volts are judged for motors alone.";

// Running range of motors, below nameplate. Source: NEMA MG 1, 12.44.1 (data/load-kinds.toml has
// how it was read).
constexpr double kMotorLow = 0.9;

bool is_too_low(const Job& job, int load, double least) {
  const Load& one = job.house.loads[static_cast<std::size_t>(load)];
  const LoadKind* kind = find_kind(job.tables, one.kind);
  const bool motor = kind != nullptr && (kind->behaviour == Behaviour::Motor ||
                                         kind->behaviour == Behaviour::Compressor);
  return motor && least < kMotorLow * one.volts.value_or(job.system.nominal_volts);
}

std::vector<Exposed> exposed_at(const Fill& fill) {
  std::vector<Exposed> rows;
  const OpenNeutral* open = event_place(fill);
  if (open == nullptr) return rows;
  for (const LoadExtremes& row : open->loads) {
    if (!row.highest || !row.lowest) continue;
    rows.push_back({row.load, least_of(*row.lowest), most_of(*row.highest),
                    fill.job.withstands(row.load),
                    is_too_low(fill.job, row.load, least_of(*row.lowest))});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Exposed& a, const Exposed& b) {
    const auto over = [](const Exposed& one) {
      return one.withstands ? one.most / *one.withstands : 0.0;
    };
    return over(a) > over(b);
  });
  return rows;
}

std::string past_words(const Exposed& row) {
  if (row.past()) return row.too_low ? "too high, or too low" : "too high";
  if (row.too_low) return "too low";
  return row.withstands ? "neither" : "not known";
}

}  // namespace

Section event_section(Fill& fill) {
  const House& house = fill.job.house;
  const OpenNeutral* open = event_place(fill);
  Section section{"event", "The event", {}, false};
  section.blocks.emplace_back(
      Fields{{{"Date and hour", visit_field(house, "event")},
              {"Weather then", visit_field(house, "event_weather")},
              {"Taken to have opened", open == nullptr ? "" : neutral_at(open->place)},
              {"Reported as damaged", visit_field(house, "damaged")},
              {"Owner", visit_field(house, "client")},
              {"Insurer and policy", visit_field(house, "insurer")},
              {"Utility's job number", visit_field(house, "utility_job")}}});
  return section;
}

Section exposed_section(Fill& fill) {
  Section section{"exposed", "What was exposed, and what it could have had", {}, false};
  const OpenNeutral* open = event_place(fill);
  if (open == nullptr) {
    section.blocks.emplace_back(
        Paragraph{"No load of this house hangs on a neutral that legs share."});
    return section;
  }
  section.blocks.emplace_back(Paragraph{fmt::format(
      "Should {} have opened or loosened, these loads were beyond it. The volts that each really "
      "had cannot be known afterwards; the range is what it could have had, over all credible "
      "states.",
      neutral_at(open->place))});
  Sheet sheet{"Exposed",
              fmt::format("Loads beyond {}", neutral_at(open->place)),
              {{"load", "", false},
               {"outlet", "", false},
               {"could have had from", "V", true},
               {"to", "V", true},
               {"withstands", "V", true},
               {"could have been", "", false}},
              {},
              {},
              0};
  for (const Exposed& row : exposed_at(fill)) {
    const Load& load = fill.load(row.load);
    sheet.rows.push_back({load.name, load.at, number(row.least), number(row.most),
                          number(row.withstands), past_words(row)});
  }
  for (const OutletExtremes& row : open->outlets) {
    if (!row.highest || !row.lowest) continue;
    sheet.rows.push_back(
        {"nothing described", fill.job.house.outlets[static_cast<std::size_t>(row.outlet)].name,
         number(row.lowest->value.si()), number(row.highest->value.si()), Cell{},
         row.highest->value.si() > plain_limit(fill.job) ? "too high for what was plugged in"
                                                         : ""});
  }
  sheet.notes.push_back(
      "Where a highest or lowest value is not proven, a load's range goes to the bound that no "
      "credible state exceeds. too low, for motors and compressors: more than 10 % below the "
      "nameplate, the running range of NEMA MG 1. Loads are taken as constant impedances.");
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

Section to_test_section(Fill& fill) {
  Section section{"to-test", "What to have tested", {}, false};
  Bullets list;
  const OpenNeutral* open = event_place(fill);
  const Exposure exposed = exposure_at(fill.job, open);
  if (open != nullptr && exposed.outlets_past > 0) {
    list.items.push_back(fmt::format(
        "Whatever else was plugged in: {} with nothing described could have had up to {} V",
        counted(exposed.outlets_past, "outlet"), figure(exposed.worst_outlet_volts)));
  }
  for (const Exposed& row : exposed_at(fill)) {
    const Load& load = fill.load(row.load);
    if (row.past()) {
      list.items.push_back(
          fmt::format("{} ({}), which withstands {} V and could have had up to {} V", load.name,
                      load.at, figure(*row.withstands), figure(row.most)));
    } else if (row.too_low) {
      list.items.push_back(fmt::format("{} ({}), a motor that could have had as little as {} V",
                                       load.name, load.at, figure(row.least)));
    }
  }
  if (list.items.empty()) list.items.emplace_back(kNoneAbove);
  section.blocks.emplace_back(std::move(list));
  section.blocks.emplace_back(Paragraph{
      "Beyond what is described, it is common practice to look at: smoke and carbon monoxide "
      "alarms, surge protectors and plug strips, GFCI and AFCI devices, dimmers and timers, LED "
      "and fluorescent lamps, controls of heating and cooling, motors and their insulation, and "
      "the neutral's own joints. By qualified persons; what seems to work may fail later."});
  return section;
}

Section claim_section(Fill& fill) {
  Section section{"claim", "List for a claim", {}, true};
  Sheet sheet{"Claim",
              "To be completed by the owner; keep replaced parts and receipts",
              {{"item", "", false},
               {"where", "", false},
               {"could have had up to", "V", true},
               {"make and model", "", false},
               {"bought", "", false},
               {"state after the event", "", false},
               {"cost", "", false}},
              {},
              {},
              0};
  for (const Exposed& row : exposed_at(fill)) {
    if (!row.past() && !row.too_low) continue;
    const Load& load = fill.load(row.load);
    sheet.rows.push_back({load.name, load.at, number(row.most), "", "", "", ""});
  }
  constexpr int kSpare = 4;  // lines for what is not described
  for (int line = 0; line < kSpare; ++line) sheet.rows.emplace_back(sheet.columns.size());
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

}  // namespace evenleg
