// Where a drawing is put together: shapes and text on a white sheet of 480 units.
//
// Text classes, one or more: "b" bold, "s" small, "e" ends at x, "m" centred on x, "w" a warning.
// Shape classes: "ink" outline, "thin" and "grid" lines, "plate" white with an outline, "n" the
// neutral, "warn" what is past a limit, "mark" a filled sign, "hollow" an empty one.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/drawing/drawing.h"

namespace evenleg {

inline constexpr double kSheetWidth = 480;
inline constexpr double kTextSize = 13;
inline constexpr double kSmallSize = 12;
inline constexpr double kBoldSize = 15;  // what bold letters of kTextSize take

// Units that the text takes at that size, on the generous side for any usual sans-serif face.
[[nodiscard]] double text_width(std::string_view text, double size = kTextSize);
// The text cut to that width, then with "…".
[[nodiscard]] std::string fitted(std::string_view text, double width, double size = kTextSize);

class Canvas {
 public:
  // `name`: of the drawing; its ids begin with it.
  explicit Canvas(std::string name) : name_(std::move(name)) {}

  void line(double x1, double y1, double x2, double y2, std::string_view classes = "ink");
  void rect(double x, double y, double width, double height, std::string_view classes);
  void circle(double x, double y, double radius, std::string_view classes);
  void path(std::string_view d, std::string_view classes);
  void text(double x, double y, std::string_view text, std::string_view classes = "");
  // Shapes in a leg's pattern. `leg`: in the supply's order.
  void leg_rect(int leg, double x, double y, double width, double height);
  void leg_path(int leg, std::string_view d);
  // A swatch of the leg and its name beside it; gives the x after it.
  double leg_key(int leg, std::string_view leg_name, double x, double y);
  // The sign of a leg among measured points: circle, square, triangle. `filled` or hollow.
  void leg_sign(int leg, double x, double y, bool filled);

  [[nodiscard]] Drawing finished(double height, std::string title, std::string description) &&;

 private:
  [[nodiscard]] std::string fill_of(int leg) const;

  std::string name_;
  std::string body_;
};

// Evenly divided volts, amperes or the like, from one x to another.
class Scale {
 public:
  // Widened to whole steps of 1, 2 or 5; about `most_steps` of them.
  Scale(double least, double most, double from, double to, int most_steps = 8);

  [[nodiscard]] double at(double value) const;
  [[nodiscard]] double least() const { return least_; }
  [[nodiscard]] double most() const { return most_; }
  [[nodiscard]] double step() const { return step_; }

 private:
  double least_, most_, from_, to_, step_;
};

}  // namespace evenleg
