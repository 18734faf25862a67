#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/drawing/panel_face.h"
#include "evenleg/house/panel_face.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

// What sits in a space, a line for each pole of a tandem breaker.
struct SpaceRow {
  std::string circuit, poles, protection, multiwire, legs;
  std::optional<double> breaker;
  std::string conductor;

  bool operator==(const SpaceRow&) const = default;
};

std::vector<SpaceRow> rows_of(const House& house, const Wiring& wiring, const Position& position) {
  std::vector<SpaceRow> rows;
  for (const Seat& seat : position.seats) {
    SpaceRow row;
    row.breaker = breaker_of(seat, house);
    if (seat.fed_panel >= 0) {
      const Panel& panel = house.panels[at(seat.fed_panel)];
      row.circuit = "feeds " + panel.name;
      row.poles = fmt::format("{} of {}", seat.pole + 1, panel.at_spaces.size());
      row.conductor = panel.run.conductor.value_or("");
    } else {
      const Circuit& circuit = house.circuits[at(seat.circuit)];
      row.circuit = circuit.name;
      if (circuit.poles > 1) row.poles = fmt::format("{} of {}", seat.pole + 1, circuit.poles);
      row.protection = circuit.protection;
      row.multiwire = multiwire_mark(wiring, seat.circuit);
      row.legs = wiring.system.legs[at(wiring.circuit_legs[at(seat.circuit)][at(seat.pole)])].name;
      const int cable = wiring.circuit_cable[at(seat.circuit)];
      const int multiwire = wiring.cables[at(cable)].multiwire;
      row.conductor = circuit.run.conductor.value_or(
          multiwire >= 0 ? house.multiwires[at(multiwire)].run.conductor.value_or("") : "");
    }
    rows.push_back(std::move(row));
  }
  if (rows.empty()) rows.push_back({"spare", "", "", "", "", std::nullopt, ""});
  return rows;
}

Sheet schedule_sheet(const Job& job) {
  Sheet sheet{"Schedule",
              job.plan ? fmt::format("The panels space by space, before and after plan {}",
                                     job.plan->number)
                       : "The panels space by space",
              {{"panel", "", false},
               {"space", "", true},
               {"leg", "", false},
               {"circuit", "", false},
               {"pole", "", false},
               {"breaker", "A", true},
               {"protection", "", false},
               {"multiwire", "", false},
               {"conductor", "", false}},
              {},
              {},
              0};
  if (job.plan) sheet.columns.push_back({"after the moves", "", false});
  for (int p = 0; p < static_cast<int>(job.house.panels.size()); ++p) {
    const PanelFace face = face_of(job.house, job.wiring, p);
    const PanelFace after = job.plan ? face_of(job.plan->house, job.plan->wiring, p) : PanelFace{};
    for (std::size_t i = 0; i < face.positions.size(); ++i) {
      const Position& position = face.positions[i];
      const std::vector<SpaceRow> was = rows_of(job.house, job.wiring, position);
      const std::vector<SpaceRow> is =
          job.plan ? rows_of(job.plan->house, job.plan->wiring, after.positions[i]) : was;
      for (std::size_t r = 0; r < std::max(was.size(), is.size()); ++r) {
        const SpaceRow row = r < was.size() ? was[r] : SpaceRow{};
        const std::string now = r < is.size() ? is[r].circuit : "";
        std::vector<Cell> cells{
            job.house.panels[at(p)].name,
            count(at(position.space)),
            row.legs.empty() ? job.system.legs[at(position.leg)].name : row.legs,
            row.circuit,
            row.poles,
            as_given(row.breaker),
            row.protection,
            row.multiwire,
            row.conductor};
        if (job.plan) cells.emplace_back(now == row.circuit ? "as before" : now);
        sheet.rows.push_back(std::move(cells));
      }
    }
    for (const int c : face.by_legs_only) {
      const Circuit& circuit = job.house.circuits[at(c)];
      sheet.rows.push_back({job.house.panels[at(p)].name, "", listed(circuit.legs), circuit.name,
                            fmt::format("{}", circuit.poles), as_given(circuit.breaker_a),
                            circuit.protection, multiwire_mark(job.wiring, c),
                            circuit.run.conductor.value_or("")});
      sheet.rows.back().resize(sheet.columns.size());
    }
  }
  return sheet;
}

// What a circuit serves, for a door: its outlets and what sits directly on it.
std::string served(const House& house, const Circuit& circuit, const std::string& multiwire) {
  std::vector<std::string> places;
  for (const Outlet& outlet : house.outlets) {
    if (outlet.on == circuit.name || (!multiwire.empty() && outlet.on == multiwire)) {
      places.push_back(outlet.name);
    }
  }
  for (const Load& load : house.loads) {
    if (load.at == circuit.name) places.push_back(load.name);
  }
  constexpr std::size_t kMost = 6;
  if (places.size() <= kMost) return listed(places);
  const std::size_t more = places.size() - kMost;
  places.resize(kMost);
  places.push_back(fmt::format("{} more", more));
  return listed(places);
}

Sheet directory_of(const Job& job, const House& house, const Wiring& wiring, int p) {
  Sheet sheet{fmt::format("Directory {}", p + 1),
              fmt::format("Directory of panel {}{}", house.panels[at(p)].name,
                          job.plan ? fmt::format(", after plan {}", job.plan->number) : ""),
              {{"space", "", true},
               {"leg", "", false},
               {"circuit", "", false},
               {"breaker", "A", true},
               {"serves", "", false}},
              {},
              {},
              0};
  const PanelFace face = face_of(house, wiring, p);
  for (const Position& position : face.positions) {
    const std::string& leg = job.system.legs[at(position.leg)].name;
    if (position.seats.empty()) {
      sheet.rows.push_back({count(at(position.space)), leg, "spare", "", ""});
    }
    for (const Seat& seat : position.seats) {
      if (seat.fed_panel >= 0) {
        const Panel& fed = house.panels[at(seat.fed_panel)];
        sheet.rows.push_back({count(at(position.space)), leg, "feeder of " + fed.name,
                              as_given(fed.breaker_a), "panel " + fed.name});
        continue;
      }
      const Circuit& circuit = house.circuits[at(seat.circuit)];
      const int multiwire = wiring.cables[at(wiring.circuit_cable[at(seat.circuit)])].multiwire;
      const std::string shared = multiwire < 0 ? "" : house.multiwires[at(multiwire)].name;
      sheet.rows.push_back({count(at(position.space)), leg, circuit.name,
                            as_given(circuit.breaker_a), served(house, circuit, shared)});
    }
  }
  return sheet;
}

}  // namespace

Section panels_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"panels", "The panels", {}, false};
  const bool with_plan = fill.options.reader == Reader::Contractor && job.plan;
  for (int p = 0; p < static_cast<int>(job.house.panels.size()); ++p) {
    FaceOptions options;
    options.name = fmt::format("panel-face-{}", p + 1);
    if (with_plan) options.when = "as it is";
    section.blocks.emplace_back(draw_panel_face(job.house, job.wiring, p, options));
    const auto moves_here = [p](const CircuitMove& move) { return move.panel == p; };
    if (!with_plan ||
        std::none_of(job.plan->plan.moved.begin(), job.plan->plan.moved.end(), moves_here)) {
      continue;
    }
    options.name += "-after";
    options.when = fmt::format("after plan {}", job.plan->number);
    options.before = &job.house;
    section.blocks.emplace_back(draw_panel_face(job.plan->house, job.plan->wiring, p, options));
  }
  return section;
}

Section schedule_section(Fill& fill) {
  return {"schedule", "Schedule of the panels", {schedule_sheet(fill.job)}, false};
}

Section directory_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"directory", "Directory for the panel door", {}, true};
  const House& house = job.plan ? job.plan->house : job.house;
  const Wiring& wiring = job.plan ? job.plan->wiring : job.wiring;
  for (int p = 0; p < static_cast<int>(house.panels.size()); ++p) {
    section.blocks.emplace_back(directory_of(job, house, wiring, p));
  }
  return section;
}

}  // namespace evenleg
