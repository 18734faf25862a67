#include "src/diagnose/read_points.h"

#include <algorithm>
#include <set>
#include <utility>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

using Spot = std::pair<int, int>;  // cable and box; cable -1: a panel

template <class Named>
int index_of(const std::vector<Named>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Named& item) { return item.name == name; });
  return found == all.end() ? -1 : static_cast<int>(found - all.begin());
}

Spot spot_of(const std::string& place, const House& house, const Wiring& wiring) {
  if (const int panel = index_of(house.panels, place); panel >= 0) return {-1, panel};
  const auto outlet = at(index_of(house.outlets, place));
  return {wiring.outlet_cable[outlet], wiring.outlet_box[outlet]};
}

std::vector<int> boxes_up(const Cable& cable, int box) {
  std::vector<int> path;
  for (int b = box; b > 0; b = cable.boxes[at(b)].upstream) path.push_back(b);
  return path;
}

// Closes a set of boxes under "where the ways to two of them part".
void add_partings(const Cable& cable, int index, std::set<Spot>& spots) {
  std::vector<int> ways(cable.boxes.size(), 0);
  for (int b = static_cast<int>(cable.boxes.size()) - 1; b > 0; --b) {
    const bool chosen = spots.contains({index, b});
    if (ways[at(b)] > 1 && !chosen) spots.insert({index, b});
    if (ways[at(b)] > 0 || chosen) ++ways[at(cable.boxes[at(b)].upstream)];
  }
}

std::set<Spot> chosen_spots(const House& house, const Wiring& wiring) {
  std::set<Spot> spots{{-1, 0}};
  for (const Reading& reading : house.readings) spots.insert(spot_of(reading.at, house, wiring));
  std::set<int> read;  // cables
  for (const Spot& spot : spots) read.insert(spot.first);
  read.erase(-1);
  std::set<int> used = read;
  for (const Reading& reading : house.readings) {
    for (const std::string& name : reading.on) {
      const WiredLoad& load = wiring.loads[at(index_of(house.loads, name))];
      used.insert(load.cable);
      if (read.contains(load.cable)) spots.insert({load.cable, load.box});
    }
  }
  for (const int c : used) {
    const Cable& cable = wiring.cables[at(c)];
    if (read.contains(c)) add_partings(cable, c, spots);
    spots.insert({-1, cable.neutral_panel});
    for (const Hot& hot : cable.hots) spots.insert({-1, hot.panel});
    spots.erase({c, 0});
  }
  return spots;
}

// Builds the points in order, and finds them again by their spot.
class Builder {
 public:
  Builder(const House& house, const Wiring& wiring, const Model& model)
      : house_(house), wiring_(wiring), model_(model) {
    const std::set<Spot> spots = chosen_spots(house, wiring);
    for (std::size_t p = 0; p < house.panels.size(); ++p) {
      if (spots.contains({-1, static_cast<int>(p)})) panels_.push_back(static_cast<int>(p));
    }
    // A panel may stand before the one that feeds it.
    std::stable_sort(panels_.begin(), panels_.end(),
                     [&](int a, int b) { return depth(a) < depth(b); });
    for (const int panel : panels_) add_panel(panel);
    for (const auto& [cable, box] : spots) {
      if (cable >= 0) add_box(cable, box);
    }
  }

  ReadPoints result() {
    ReadPoints all{points_, {}, {}, {}};
    for (const Reading& reading : house_.readings) {
      const int point = find(spot_of(reading.at, house_, wiring_));
      all.points[at(point)].read = true;
      mark_way(all.points, point);
      all.of_reading.push_back(point);
    }
    for (const Cable& cable : wiring_.cables) all.cables.push_back(start_of(cable));
    for (const ReadPoint& point : points_) {
      if (point.cable >= 0) all.cables[at(point.cable)].read = true;
    }
    for (const WiredLoad& load : wiring_.loads) all.loads.push_back(spot_of_load(load));
    return all;
  }

 private:
  static void mark_way(std::vector<ReadPoint>& points, int point) {
    if (point < 0 || points[at(point)].on_the_way) return;
    points[at(point)].on_the_way = true;
    for (const Wire& wire : points[at(point)].wires) mark_way(points, wire.up_point);
  }

  int depth(int panel) const {
    int steps = 0;
    for (int p = panel; p > 0; p = wiring_.panels[at(p)].fed_from) ++steps;
    return steps;
  }

  int find(const Spot& spot) const {
    for (std::size_t p = 0; p < points_.size(); ++p) {
      const ReadPoint& point = points_[p];
      if (spot.first < 0 ? point.panel == spot.second
                         : point.cable == spot.first && point.box == spot.second) {
        return static_cast<int>(p);
      }
    }
    return spot.first >= 0 && spot.second == 0
               ? find({-1, wiring_.cables[at(spot.first)].neutral_panel})
               : -1;
  }

  void add_panel(int panel) {
    ReadPoint point{house_.panels[at(panel)].name, panel, -1, -1, false, false, {}};
    std::vector<int> legs = model_.panels[at(panel)].legs;
    legs.push_back(kNeutral);
    for (const int leg : legs) point.wires.push_back(wire_from_panel(leg, panel));
    points_.push_back(std::move(point));
  }

  // A wire that ends at `panel`, from the next point up.
  Wire wire_from_panel(int leg, int panel) const {
    Wire wire{leg, -1, -1, -1, {}};
    for (int p = panel; p >= 0; p = wiring_.panels[at(p)].fed_from) {
      if (p != panel && hang(wire, p)) return wire;
      const RunImpedance& run = model_.panels[at(p)].run;
      wire.expected += leg == kNeutral ? run.neutral : run.hot;
    }
    const RunImpedance share = transformer_share(model_, wiring_.system.split_phase);
    wire.expected += leg == kNeutral ? share.neutral : share.hot;
    return wire;
  }

  // Hangs a wire on that panel, if it is a point.
  bool hang(Wire& wire, int panel) const {
    wire.up_point = find({-1, panel});
    if (wire.up_point < 0) return false;
    const ReadPoint& up = points_[at(wire.up_point)];
    wire.up_wire = wire.leg == kNeutral ? up.neutral() : up.wire_of_leg(wire.leg);
    return true;
  }

  void add_box(int c, int box) {
    const Cable& cable = wiring_.cables[at(c)];
    const int outlet = cable.boxes[at(box)].outlet;
    ReadPoint point{
        outlet < 0 ? "" : house_.outlets[at(outlet)].name, -1, c, box, false, false, {}};
    for (const int hot : cable.boxes[at(box)].hots) point.wires.push_back(wire_of_box(c, box, hot));
    point.wires.push_back(wire_of_box(c, box, -1));
    points_.push_back(std::move(point));
  }

  Wire wire_of_box(int c, int box, int hot) const {
    const Cable& cable = wiring_.cables[at(c)];
    Wire wire{hot < 0 ? kNeutral : cable.hots[at(hot)].leg, hot, -1, -1, {}};
    for (const int b : boxes_up(cable, box)) {
      if (const int up = b == box ? -1 : find({c, b}); up >= 0) {
        wire.up_point = up;
        wire.up_wire = wire_with_hot(points_[at(up)], hot);
        return wire;
      }
      const RunImpedance& run = model_.cables[at(c)].boxes[at(b)].run;
      wire.expected += hot < 0 ? run.neutral : run.hot;
    }
    hang(wire, hot < 0 ? cable.neutral_panel : cable.hots[at(hot)].panel);
    return wire;
  }

  static int wire_with_hot(const ReadPoint& point, int hot) {
    if (hot < 0) return point.neutral();
    for (std::size_t w = 0; w + 1 < point.wires.size(); ++w) {
      if (point.wires[w].hot == hot) return static_cast<int>(w);
    }
    return 0;
  }

  CableStart start_of(const Cable& cable) const {
    CableStart start;
    for (const Hot& hot : cable.hots) {
      start.points.push_back(find({-1, hot.panel}));
      const int point = start.points.back();
      start.wires.push_back(point < 0 ? -1 : points_[at(point)].wire_of_leg(hot.leg));
    }
    start.neutral_point = find({-1, cable.neutral_panel});
    if (start.neutral_point >= 0) start.neutral_wire = points_[at(start.neutral_point)].neutral();
    return start;
  }

  LoadSpot spot_of_load(const WiredLoad& load) const {
    LoadSpot spot;
    if (load.box > 0) spot.point = find({load.cable, load.box});
    if (spot.point < 0) return spot;
    const ReadPoint& point = points_[at(spot.point)];
    spot.from = wire_with_hot(point, load.from);
    spot.to = wire_with_hot(point, load.to == kNeutral ? -1 : load.to);
    return spot;
  }

  const House& house_;
  const Wiring& wiring_;
  const Model& model_;
  std::vector<int> panels_;
  std::vector<ReadPoint> points_;
};

}  // namespace

int ReadPoint::wire_of_leg(int leg) const {
  for (std::size_t w = 0; w + 1 < wires.size(); ++w) {
    if (wires[w].leg == leg) return static_cast<int>(w);
  }
  return -1;
}

RunImpedance transformer_share(const Model& model, bool split_phase) {
  const Matrix& z = model.source_impedance;
  if (z.size() == 0) return {};
  if (!split_phase) return {z(0, 0), {}};
  const Complex common = -z(0, 1);
  return {z(0, 0) + common, -common};
}

ReadPoints read_points(const House& house, const Wiring& wiring, const Model& model) {
  return Builder(house, wiring, model).result();
}

}  // namespace evenleg
