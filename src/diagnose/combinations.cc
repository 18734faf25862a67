#include "src/diagnose/combinations.h"

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"

namespace evenleg {
namespace {

// Adds a wire's way from `point` up to `stop`.
void add_way(const ReadPoints& points, const ReadingModel& model, int point, int wire, int stop,
             Combination& sum) {
  int w = wire;
  for (int p = point; p >= 0 && p != stop;) {
    const Wire& here = points.points[at(p)].wires[at(w)];
    sum.c(model.parameter(p, w)) += 1;
    sum.expected += here.expected;
    p = here.up_point;
    w = here.up_wire;
  }
}

}  // namespace

std::vector<Combination> ways_up(const ReadPoints& points, const ReadingModel& model, int point,
                                 const std::vector<int>& wires) {
  std::vector<int> stops;
  for (int p = points.points[at(point)].wires[at(wires.front())].up_point; p >= 0;
       p = points.points[at(p)].wires.back().up_point) {
    if (points.points[at(p)].read || p == 0) stops.push_back(p);
  }
  stops.push_back(-1);
  std::vector<Combination> ways;
  for (const int stop : stops) {
    Combination way{stop, point, wires, Eigen::VectorXd::Zero(model.parameters()), {}};
    for (const int wire : wires) add_way(points, model, point, wire, stop, way);
    ways.push_back(std::move(way));
  }
  return ways;
}

std::string conductor_name(const ReadPoint& point, const std::vector<int>& wires,
                           const SupplySystem& system) {
  std::vector<std::string> names;
  for (const int wire : wires) {
    const int leg = point.wires[at(wire)].leg;
    names.push_back(leg == kNeutral ? "N" : system.legs[at(leg)].name);
  }
  return listed(names);
}

}  // namespace evenleg
