#include "evenleg/drawing/multiwire.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/quoted.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kTop = 84;
constexpr double kTerminal = 19;  // height of a pair of terminals
constexpr double kName = 22;
constexpr double kBetween = 10;
constexpr double kBreak = 18;  // more above the box behind the break
constexpr double kIndent = 14;
constexpr double kBoxLeft = 34;
constexpr double kSound = 300, kOpenAt = 368, kWorst = 462;  // right edges of the figures

// A box of the chain, with what is told of it. Ends of runs without anything there are not drawn.
struct Node {
  int box = 0;
  int up = 0;  // the box that is drawn above it
  int depth = 0;
  double top = 0, bottom = 0;
  std::string name;
  std::vector<const OutletChange*> changes;
};

class Chain {
 public:
  Chain(const House& house, const Wiring& wiring, const Place& place,
        const std::vector<OutletChange>& changes)
      : house_(house),
        wiring_(wiring),
        cable_(wiring.cables[at(place.cable)]),
        place_(place),
        changes_(changes),
        canvas_(fmt::format("multiwire-{}-{}", cable_.multiwire + 1, place.box)) {}

  Drawing drawn() && {
    const std::string& name = house_.multiwires[at(cable_.multiwire)].name;
    canvas_.text(12, 20, fitted("Multiwire " + name, kSheetWidth - 24, kBoldSize), "b");
    double x = 12;
    for (const int leg : legs()) x = canvas_.leg_key(leg, wiring_.system.legs[at(leg)].name, x, 38);
    canvas_.text(kSound, 62, "whole, V", "e s");
    canvas_.text(kOpenAt, 62, "open, V", "e s");
    canvas_.text(kWorst, 62, "load at most", "e s");
    lay_out();
    draw_lengths();
    for (const Node& node : nodes_) draw(node);
    double foot = nodes_.back().bottom + 22;
    for (const char* note :
         {"whole, open: volts with the loads on that were on as found. load at",
          "most: across a load there while it is on, or empty terminals, over all",
          "credible states, neutral open. A filled sign: past what a load withstands."}) {
      canvas_.text(12, foot, note, "s");
      foot += 15;
    }
    return std::move(canvas_).finished(
        foot, fmt::format("Multiwire {}, its shared neutral opened", in_quotes(name)),
        description());
  }

 private:
  [[nodiscard]] std::vector<int> legs() const {
    std::vector<int> legs;
    for (const Hot& hot : cable_.hots) {
      if (std::count(legs.begin(), legs.end(), hot.leg) == 0) legs.push_back(hot.leg);
    }
    std::sort(legs.begin(), legs.end());
    return legs;
  }

  [[nodiscard]] std::string name_of_box(int box) const {
    const Box& one = cable_.boxes[at(box)];
    if (box == 0) return "panel " + house_.panels[at(cable_.neutral_panel)].name;
    if (one.outlet >= 0) return house_.outlets[at(one.outlet)].name;
    return one.hots.size() == 1
               ? "end of " + house_.circuits[at(cable_.hots[at(one.hots[0])].circuit)].name
               : "end of the shared run";
  }

  // Whether a row of volts belongs to that box: by the outlet, or by the circuit or multiwire
  // whose run ends there.
  [[nodiscard]] bool is_of(const OutletChange& change, int box) const {
    const Box& one = cable_.boxes[at(box)];
    if (one.outlet >= 0) return change.where == house_.outlets[at(one.outlet)].name;
    if (one.hots.size() == 1) {
      return change.where == house_.circuits[at(cable_.hots[at(one.hots[0])].circuit)].name;
    }
    return change.where == house_.multiwires[at(cable_.multiwire)].name;
  }

  // Depth first, so that each length leads from a box above to one below.
  void lay_out() {
    double y = kTop;
    add_from(0, 0, 0, y);
  }
  void add_from(int box, int up, int depth, double& y) {
    if (box == place_.box) y += kBreak;
    Node node{box, up, depth, y, y, name_of_box(box), {}};
    for (const OutletChange& change : changes_) {
      if (box > 0 && is_of(change, box)) node.changes.push_back(&change);
    }
    const bool drawn =
        box == 0 || box == place_.box || !node.changes.empty() || cable_.boxes[at(box)].outlet >= 0;
    if (drawn) {
      node.bottom = y + kName + kTerminal * static_cast<double>(node.changes.size());
      y = node.bottom + kBetween;
      nodes_.push_back(node);
    }
    std::vector<int> next;
    for (std::size_t b = 1; b < cable_.boxes.size(); ++b) {
      if (cable_.boxes[b].upstream == box) next.push_back(static_cast<int>(b));
    }
    constexpr int kDeepest = 5;
    const int deeper = std::min(kDeepest, depth + static_cast<int>(next.size() > 1));
    for (const int one : next) add_from(one, drawn ? box : up, deeper, y);
  }

  [[nodiscard]] const Node& node_of(int box) const {
    return *std::find_if(nodes_.begin(), nodes_.end(),
                         [&](const Node& node) { return node.box == box; });
  }
  static double left_of(const Node& node) { return kBoxLeft + kIndent * node.depth; }

  void draw_lengths() {
    for (const Node& node : nodes_) {
      if (node.box == 0) continue;
      const Node& up = node_of(node.up);
      const double x = left_of(up) - 10;
      const double y1 = up.top + kName / 2, y2 = node.top + kName / 2;
      canvas_.path(fmt::format("M{:.1f},{:.1f} H{:.1f} V{:.1f} H{:.1f}", left_of(up), y1, x, y2,
                               left_of(node)),
                   "ink");
      if (node.box == place_.box) draw_break(x, node.top - (kBreak + kBetween) / 2);
    }
  }

  void draw_break(double x, double y) {
    canvas_.rect(x - 7, y - 7, 14, 14, "plate");
    canvas_.path(fmt::format("M{0:.1f},{1:.1f} l10,10 m0,-10 l-10,10", x - 5, y - 5), "warn");
    canvas_.text(x + 12, y + 4, "the shared neutral is open here", "w s b");
  }

  void draw(const Node& node) {
    const double x = left_of(node);
    canvas_.rect(x, node.top, kSheetWidth - 12 - x, node.bottom - node.top, "plate");
    canvas_.text(x + 6, node.top + 15, fitted(node.name, kSheetWidth - 30 - x), "");
    double y = node.top + kName + kTerminal / 2;
    for (const OutletChange* change : node.changes) {
      for (std::size_t leg = 0; leg < wiring_.system.legs.size(); ++leg) {
        if (!change->legs.starts_with(wiring_.system.legs[leg].name + "-")) continue;
        canvas_.leg_rect(static_cast<int>(leg), x + 6, y - 6, 22, 10);
      }
      canvas_.text(x + 34, y + 4, change->legs + (change->empty ? " (empty)" : ""), "s");
      canvas_.text(kSound, y + 4, figure(change->sound), "e");
      canvas_.text(kOpenAt, y + 4, figure(change->open), "e");
      const bool past = change->worst && change->withstands && *change->worst > *change->withstands;
      canvas_.text(kWorst - 14, y + 4, figure(change->worst), past ? "e b w" : "e");
      if (past) {
        canvas_.path(fmt::format("M{:.1f},{:.1f} l5,9 h-10 Z", kWorst - 4, y - 5), "past");
      }
      y += kTerminal;
    }
  }

  [[nodiscard]] std::string description() const {
    std::vector<std::string> told;
    for (const Node& node : nodes_) {
      for (const OutletChange* change : node.changes) {
        told.push_back(fmt::format("{} {}: {} V whole, {} V open, a load at most {} V", node.name,
                                   change->legs, figure(change->sound), figure(change->open),
                                   figure(change->worst)));
      }
    }
    return fmt::format(
        "From the panel on, the neutral open before {}. {}.", name_of_box(place_.box),
        told.empty() ? "No outlet beyond" : fmt::format("{}", fmt::join(told, "; ")));
  }

  const House& house_;
  const Wiring& wiring_;
  const Cable& cable_;
  const Place& place_;
  const std::vector<OutletChange>& changes_;
  std::vector<Node> nodes_;
  Canvas canvas_;
};

}  // namespace

Drawing draw_multiwire(const House& house, const Wiring& wiring, const Place& place,
                       const std::vector<OutletChange>& changes) {
  return Chain(house, wiring, place, changes).drawn();
}

}  // namespace evenleg
