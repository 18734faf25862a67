#include "evenleg/drawing/panel_face.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/quoted.h"
#include "evenleg/house/panel_face.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

// Across: a margin for the lines that join multiwires, a seat, the space's number, the leg.
constexpr double kMargin = 22;
constexpr double kMiddle = kSheetWidth / 2;
constexpr double kLegHalf = 27;
constexpr double kNumber = 22;
constexpr double kTop = 62;
constexpr double kRow = 36;
constexpr double kJoin = 6;  // between two lines that join

class Face {
 public:
  Face(const House& house, const Wiring& wiring, int panel, const FaceOptions& options)
      : house_(house),
        wiring_(wiring),
        panel_(panel),
        options_(options),
        face_(face_of(house, wiring, panel)),
        canvas_(options.name) {
    if (options.before != nullptr) before_ = face_of(*options.before, wiring, panel);
  }

  Drawing drawn() && {
    const std::string title = fmt::format("Panel {}{}", house_.panels[at(panel_)].name,
                                          options_.when.empty() ? "" : ", " + options_.when);
    canvas_.text(kMargin, 20, fitted(title, kSheetWidth - 2 * kMargin, kBoldSize), "b");
    double x = kMargin;
    for (const int leg : wiring_.panels[at(panel_)].legs) {
      x = canvas_.leg_key(leg, leg_name(leg), x, 40);
    }
    for (const Position& position : face_.positions) draw(position);
    const int rows = static_cast<int>(face_.positions.size() + 1) / 2;
    double y = kTop + kRow * rows + 18;
    join_multiwires();
    y = add_notes(y);
    return std::move(canvas_).finished(y, title, description());
  }

 private:
  [[nodiscard]] const std::string& leg_name(int leg) const {
    return wiring_.system.legs[at(leg)].name;
  }
  static bool is_left(int space) { return space % 2 == 1; }
  static double top_of(int space) { return kTop + kRow * ((space - 1) / 2); }
  static double seat_left(int space) {
    return is_left(space) ? kMargin : kMiddle + kLegHalf + kNumber;
  }
  static double seat_width() { return kMiddle - kLegHalf - kNumber - kMargin; }

  void draw(const Position& position) {
    const double y = top_of(position.space);
    if (is_left(position.space)) {
      canvas_.leg_rect(position.leg, kMiddle - kLegHalf, y + 3, 2 * kLegHalf, kRow - 6);
      canvas_.rect(kMiddle - 13, y + 9, 26, kRow - 18, "plate");
      canvas_.text(kMiddle, y + 22, leg_name(position.leg), "m b");
    }
    const bool left = is_left(position.space);
    canvas_.text(left ? kMiddle - kLegHalf - 4 : kMiddle + kLegHalf + 4, y + 22,
                 fmt::format("{}", position.space), left ? "e" : "");
    const double x = seat_left(position.space);
    if (position.seats.empty()) {
      canvas_.rect(x, y + 3, seat_width(), kRow - 6, "spare");
      canvas_.text(x + 6, y + 22, "spare", "s");
    }
    const double each = (kRow - 6) / std::max(1.0, static_cast<double>(position.seats.size()));
    for (std::size_t i = 0; i < position.seats.size(); ++i) {
      draw_seat(position, position.seats[i], x, y + 3 + each * static_cast<double>(i), each);
    }
    if (moved(position)) canvas_.rect(x + 1.5, y + 4.5, seat_width() - 3, kRow - 9, "ink bold");
  }

  // The name, and under it what there is to say, where there is room for both.
  void draw_seat(const Position& position, const Seat& seat, double x, double y, double height) {
    canvas_.rect(x, y, seat_width(), height, "plate");
    const double room = seat_width() - 10;
    const std::string about = about_seat(position, seat);
    constexpr double kTwoLines = 28;
    if (height < kTwoLines) {
      canvas_.text(
          x + 5, y + height / 2 + 4,
          fitted(name_of_seat(seat) + (about.empty() ? "" : ", " + about), room, kSmallSize), "s");
      return;
    }
    canvas_.text(x + 5, y + 13, fitted(name_of_seat(seat), room, kTextSize), "");
    canvas_.text(x + 5, y + 26, fitted(about, room, kSmallSize), "s");
  }

  [[nodiscard]] std::string name_of_seat(const Seat& seat) const {
    if (seat.fed_panel >= 0) return "feeds " + house_.panels[at(seat.fed_panel)].name;
    return house_.circuits[at(seat.circuit)].name;
  }

  [[nodiscard]] std::string about_seat(const Position& position, const Seat& seat) const {
    std::string about;
    const auto add = [&about](const std::string& more) {
      if (!more.empty()) about += (about.empty() ? "" : ", ") + more;
    };
    if (const auto amps = breaker_of(seat, house_)) add(exact(*amps) + " A");
    if (seat.circuit < 0) return about;
    const Circuit& circuit = house_.circuits[at(seat.circuit)];
    if (circuit.poles > 1) add(fmt::format("{} of {}", seat.pole + 1, circuit.poles));
    add(multiwire_mark(wiring_, seat.circuit));
    if (circuit.protection != "standard") add(circuit.protection);
    const int leg = wiring_.circuit_legs[at(seat.circuit)][at(seat.pole)];
    if (leg != position.leg) add("on " + leg_name(leg));
    return about;
  }

  [[nodiscard]] bool moved(const Position& position) const {
    return before_ && before_->positions[at(position.space - 1)].seats != position.seats;
  }

  // A line from seat to seat: along the margin on one side, across the middle between sides.
  void join_multiwires() {
    std::map<int, std::vector<int>> spaces;  // of each multiwire with seats here
    for (const Position& position : face_.positions) {
      for (const Seat& seat : position.seats) {
        if (seat.circuit < 0) continue;
        const int multiwire = wiring_.cables[at(wiring_.circuit_cable[at(seat.circuit)])].multiwire;
        if (multiwire >= 0) spaces[multiwire].push_back(position.space);
      }
    }
    std::vector<std::pair<int, int>> taken;  // rows that lines along a margin use
    for (const auto& [multiwire, seats] : spaces) {
      for (std::size_t i = 1; i < seats.size(); ++i) join(seats[i - 1], seats[i], taken);
    }
  }

  void join(int from, int to, std::vector<std::pair<int, int>>& taken) {
    const double y1 = top_of(from) + kRow / 2, y2 = top_of(to) + kRow / 2;
    if (is_left(from) == is_left(to)) {
      const auto lanes = std::count_if(taken.begin(), taken.end(), [&](const auto& rows) {
        return rows.first % 2 == from % 2 && rows.second >= std::min(from, to);
      });
      const double out = kJoin * static_cast<double>(1 + lanes % 3);
      const double edge = is_left(from) ? kMargin : kSheetWidth - kMargin;
      const double x = is_left(from) ? edge - out : edge + out;
      canvas_.path(fmt::format("M{:.1f},{:.1f} H{:.1f} V{:.1f} H{:.1f}", edge, y1, x, y2, edge),
                   "ink bold");
      taken.emplace_back(std::min(from, to), std::max(from, to));
      return;
    }
    // Above the numbers, across the leg's column.
    const double left = kMargin + seat_width(), right = kMiddle + kLegHalf + kNumber;
    const double ya = is_left(from) ? y1 : y2, yb = is_left(from) ? y2 : y1;
    canvas_.path(fmt::format("M{:.1f},{:.1f} L{:.1f},{:.1f}", left, ya - 16.5, right, yb - 16.5),
                 "ink bold");
  }

  double add_notes(double y) {
    std::vector<std::string> notes;
    if (options_.before != nullptr) notes.push_back("A heavy frame: what sits here has changed.");
    for (std::size_t m = 0; m < house_.multiwires.size(); ++m) {
      const Multiwire& multiwire = house_.multiwires[m];
      const bool here = std::any_of(multiwire.circuits.begin(), multiwire.circuits.end(),
                                    [&](const std::string& name) {
                                      for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
                                        if (house_.circuits[c].name == name)
                                          return wiring_.circuit_panel[c] == panel_;
                                      }
                                      return false;
                                    });
      if (here) {
        notes.push_back(fmt::format("M{}, joined by a line: multiwire {}", m + 1, multiwire.name));
      }
    }
    for (const int c : face_.by_legs_only) {
      notes.push_back(fmt::format("space not known: {}", house_.circuits[at(c)].name));
    }
    for (const std::string& note : notes) {
      canvas_.text(kMargin, y, fitted(note, kSheetWidth - 2 * kMargin, kSmallSize), "s");
      y += 16;
    }
    return y;
  }

  [[nodiscard]] std::string description() const {
    int spare = 0;
    std::vector<std::string> held;
    for (const Position& position : face_.positions) {
      if (position.seats.empty()) ++spare;
      for (const Seat& seat : position.seats) {
        const std::string about = about_seat(position, seat);
        held.push_back(fmt::format("{} ({}): {}{}", position.space, leg_name(position.leg),
                                   name_of_seat(seat), about.empty() ? "" : ", " + about));
      }
    }
    return fmt::format("{} spaces, {} spare. Space, leg of its row and what sits there: {}.",
                       face_.positions.size(), spare,
                       held.empty() ? "nothing" : fmt::format("{}", fmt::join(held, "; ")));
  }

  const House& house_;
  const Wiring& wiring_;
  int panel_;
  const FaceOptions& options_;
  PanelFace face_;
  std::optional<PanelFace> before_;
  Canvas canvas_;
};

}  // namespace

Drawing draw_panel_face(const House& house, const Wiring& wiring, int panel,
                        const FaceOptions& options) {
  return Face(house, wiring, panel, options).drawn();
}

}  // namespace evenleg
