// The tables of one neutral in depth: legs, extremes, outlets and loads by the ohms that its joint
// adds.
#include <algorithm>

#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/neutral_sections.h"

namespace evenleg {
namespace {

constexpr double kMoreThanProven = 0.01;  // V: a load at its limit is not past it

bool is_open(const NeutralPoint& point) { return !std::isfinite(point.added.si()); }

// "sound", "open", and where a limit is first reached.
std::string mark_of(const NeutralView& view, const NeutralPoint& point) {
  std::vector<std::string> marks;
  if (point.added == ohms(0)) marks.push_back("sound");
  if (is_open(point)) marks.push_back("open");
  if (is_limit(view.depth.high, point)) marks.push_back("too high");
  if (is_limit(view.depth.low, point)) marks.push_back("too low");
  return fmt::format("{}", fmt::join(marks, ", "));
}

// The same at the head of a column.
std::string head_of(const NeutralView& view, const NeutralPoint& point) {
  if (point.added == ohms(0)) return "sound";
  if (is_open(point)) return "open";
  const bool limit = is_limit(view.depth.high, point) || is_limit(view.depth.low, point);
  return fmt::format("{} Ω{}", figure(point.added.si()), limit ? " *" : "");
}

// How many loads could be past what they withstand; "?" where it may be more.
std::string past(const NeutralView& view, const NeutralPoint& point) {
  int count = 0;
  bool certain = true;
  for (const LoadExtremes& row : point.loads) {
    const std::optional<Volts> limit = withstands(view, row.load);
    if (!row.highest || !limit) continue;
    if (row.highest->value > *limit + volts(kMoreThanProven)) {
      ++count;
    } else {
      certain =
          certain && view.depth.certified && row.highest->bound <= *limit + volts(kMoreThanProven);
    }
  }
  return std::to_string(count) + (certain ? "" : " ?");
}

// How far two points are apart for a reader: the leg whose volts as found differ most.
double apart(const NeutralPoint& a, const NeutralPoint& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.legs.size() && i < b.legs.size(); ++i) {
    most = std::max(most, std::abs((a.legs[i].volts - b.legs[i].volts).si()));
  }
  return most;
}

// Sound, open, the limits, and between them those points that tell most: each time the one whose
// volts are furthest from both of its neighbours'.
std::vector<const NeutralPoint*> telling_points(const NeutralView& view) {
  constexpr std::size_t kMost = 6;  // columns beside the names of outlets
  constexpr double kTold = 0.5;     // V: what three digits show of 120 V
  const std::vector<NeutralPoint>& curve = view.depth.curve;
  std::vector<bool> chosen(curve.size(), false);
  for (std::size_t i = 0; i < curve.size(); ++i) {
    chosen[i] = told_by_load(view, curve[i]);
  }
  while (static_cast<std::size_t>(std::count(chosen.begin(), chosen.end(), true)) < kMost) {
    std::size_t best = curve.size();
    double most = kTold;
    for (std::size_t i = 0; i < curve.size(); ++i) {
      if (chosen[i]) continue;
      std::size_t before = i, after = i;
      while (!chosen[before]) --before;
      while (!chosen[after]) ++after;
      const double gain = std::min(apart(curve[before], curve[i]), apart(curve[i], curve[after]));
      if (gain < most) continue;
      best = i;
      most = gain;
    }
    if (best == curve.size()) break;
    chosen[best] = true;
  }
  std::vector<const NeutralPoint*> points;
  for (std::size_t i = 0; i < curve.size(); ++i) {
    if (chosen[i]) points.push_back(&curve[i]);
  }
  return points;
}

std::vector<const NeutralPoint*> limit_points(const NeutralView& view) {
  std::vector<const NeutralPoint*> points;
  for (const NeutralPoint& point : view.depth.curve) {
    if (told_by_load(view, point)) points.push_back(&point);
  }
  return points;
}

std::string outlets_table(const NeutralView& view, const std::vector<const NeutralPoint*>& points) {
  std::vector<Column> columns{{"outlet"}, {"between"}};
  for (const NeutralPoint* point : points) columns.push_back({head_of(view, *point), Align::Right});
  TextTable table(columns);
  for (std::size_t i = 0; i < points.front()->outlets.size(); ++i) {
    const OutletVolts& row = points.front()->outlets[i];
    std::vector<std::string> cells{row.where, row.legs};
    for (const NeutralPoint* point : points) {
      cells.push_back(shown(point->outlets[i].as_found.si()));
    }
    table.add(std::move(cells));
  }
  return table.text();
}

// "0 to 230"; each end with its mark where it is not proven.
template <class Row>
std::string range(const NeutralView& view, const Row& row) {
  if (!row.highest || !row.lowest) return "-";
  return shown(view.depth.certified, row.lowest, Side::Lowest) + " to " +
         shown(view.depth.certified, row.highest, Side::Highest);
}

// Rows by how far past its limit each is with the neutral open.
std::vector<std::size_t> worst_first(const NeutralView& view) {
  const std::vector<LoadExtremes>& rows = view.depth.curve.back().loads;
  const auto over = [&](std::size_t i) {
    const std::optional<Volts> limit = withstands(view, rows[i].load);
    return rows[i].highest && limit && *limit > volts(0) ? rows[i].highest->value / *limit : -1;
  };
  std::vector<std::size_t> order(rows.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return over(a) > over(b); });
  return order;
}

std::string empty_outlets(const NeutralView& view, const std::vector<const NeutralPoint*>& points) {
  std::vector<Column> columns{{"outlet with no load"}, {"between"}};
  for (const NeutralPoint* point : points) columns.push_back({head_of(view, *point), Align::Right});
  TextTable table(columns);
  for (std::size_t i = 0; i < points.front()->empty.size(); ++i) {
    const OutletExtremes& row = points.front()->empty[i];
    std::vector<std::string> cells{view.house.outlets[static_cast<std::size_t>(row.outlet)].name,
                                   row.legs};
    for (const NeutralPoint* point : points) cells.push_back(range(view, point->empty[i]));
    table.add(std::move(cells));
  }
  return table.empty() ? "" : "\n" + table.text();
}

}  // namespace

std::string legs_by_ohms(const NeutralView& view) {
  std::vector<Column> columns{{"added Ω", Align::Right}, {"then"}};
  for (const LegRow& row : view.depth.curve.front().legs) {
    columns.push_back({row.leg + " V", Align::Right});
  }
  for (const char* name : {"shift V", "A", "across V", "heat W"}) {
    columns.push_back({name, Align::Right});
  }
  TextTable table(columns);
  for (const NeutralPoint& point : view.depth.curve) {
    std::vector<std::string> cells{figure(point.added.si()), mark_of(view, point)};
    for (const LegRow& row : point.legs) cells.push_back(shown(row.volts.si()));
    cells.push_back(shown(point.neutral_shift.si()));
    cells.push_back(shown(point.amps.si()));
    cells.push_back(is_open(point) ? "-" : shown((point.amps * point.added).si()));
    cells.push_back(shown(point.heat.si()));
    table.add(std::move(cells));
  }
  return heading("Legs as found, by what the joint adds") + table.text() +
         paragraph(
             "V of a leg: to the neutral just beyond the joint. shift V: from that neutral to the "
             "source's, what metal bonded to it could show to earth. A, across V, heat W: through "
             "the joint, across it, in it.");
}

std::string extremes_by_ohms(const NeutralView& view) {
  TextTable table({{"added Ω", Align::Right},
                   {"then"},
                   {"heat W at most", Align::Right},
                   {"lowest V", Align::Right},
                   {"load"},
                   {"highest V", Align::Right},
                   {"load"},
                   {"past", Align::Right}});
  const auto name = [&](int load) { return load < 0 ? "-" : view.load(load).name; };
  const bool certified = view.depth.certified;
  for (const NeutralPoint& point : view.depth.curve) {
    table.add({figure(point.added.si()), mark_of(view, point),
               shown(certified, point.highest_heat, Side::Highest),
               shown(certified, point.lowest, Side::Lowest), name(point.lowest_load),
               shown(certified, point.highest, Side::Highest), name(point.highest_load),
               past(view, point)});
  }
  return heading("Over the credible states, by what the joint adds") + table.text() +
         paragraph(
             "heat W at most: in the joint. lowest, highest V: of all loads beyond it, each in the "
             "states in which it is on. past: how many loads could be past what they withstand, ? "
             "where there may be more.");
}

std::string outlets_by_ohms(const NeutralView& view) {
  constexpr std::size_t kColumns = 6;
  if (view.depth.curve.front().outlets.empty()) return "";
  std::string text = heading("Outlets as found, V, by what the joint adds");
  if (!view.options.all) return text + outlets_table(view, telling_points(view));
  for (std::size_t from = 0; from < view.depth.curve.size(); from += kColumns) {
    std::vector<const NeutralPoint*> points;
    for (std::size_t i = from; i < std::min(from + kColumns, view.depth.curve.size()); ++i) {
      points.push_back(&view.depth.curve[i]);
    }
    text += (from == 0 ? "" : "\n") + outlets_table(view, points);
  }
  return text;
}

std::string loads_by_ohms(const NeutralView& view) {
  const std::vector<const NeutralPoint*> points = limit_points(view);
  std::vector<Column> columns{{"load"}, {"outlet"}, {"limit V", Align::Right}};
  for (const NeutralPoint* point : points) columns.push_back({head_of(view, *point), Align::Right});
  TextTable table(columns);
  for (const std::size_t i : worst_first(view)) {
    const int load = points.front()->loads[i].load;
    const std::optional<Volts> limit = withstands(view, load);
    std::vector<std::string> cells{view.load(load).name, view.load(load).at,
                                   limit ? figure(limit->si()) : "-"};
    for (const NeutralPoint* point : points) cells.push_back(range(view, point->loads[i]));
    table.add(std::move(cells));
  }
  std::string text = heading("Loads over the credible states, lowest to highest V");
  text += table.empty() ? paragraph("No load hangs on the neutral beyond it.") : table.text();
  text += empty_outlets(view, points);
  return text + paragraph(
                    "limit V: what the load is taken to withstand without end. * A first limit of "
                    "those above. -: on in no credible state.");
}

}  // namespace evenleg
