#include "src/balance/panel_room.h"

#include <algorithm>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

}  // namespace

int start_of_block(const std::vector<int>& legs, std::size_t bus_legs) {
  if (bus_legs == 2 || legs.size() != 2) return -1;
  const int a = std::min(legs[0], legs[1]);
  const int b = std::max(legs[0], legs[1]);
  return b - a == 1 ? a : b;  // the last leg's row stands above the first's
}

PanelRoom::PanelRoom(int legs, std::vector<bool> open, std::vector<TandemHalf> halves)
    : legs_(legs), open_(std::move(open)), halves_(std::move(halves)),
      spaces_on_(at(legs), 0), halves_on_(at(legs), 0) {
  for (int space = 1; space <= static_cast<int>(open_.size()); ++space) {
    if (is_open(space)) ++spaces_on_[at(leg_of(space))];
  }
  for (const TandemHalf& half : halves_) ++halves_on_[at(half.leg)];
  list_layouts();
}

bool PanelRoom::is_open(int space) const {
  return space >= 1 && space <= static_cast<int>(open_.size()) && open_[at(space - 1)];
}

int PanelRoom::left_on(int leg, int used) const { return spaces_on_[at(leg)] - used; }

int PanelRoom::halves_on(int leg) const { return halves_on_[at(leg)]; }

void PanelRoom::list_layouts() {
  using Counts = std::vector<std::int8_t>;
  layouts_ = {Counts(at(legs_) + 1, 0)};
  const int spaces = static_cast<int>(open_.size());
  for (int column = 1; column <= kColumns; ++column) {
    // reached[r]: counts with all rows above r decided; a block may end up to two rows further.
    const int rows = (spaces - column) / kColumns + 1;
    if (spaces < column) continue;
    std::vector<std::set<Counts>> reached(at(rows) + 1);
    reached[0] = layouts_;
    for (int row = 0; row < rows; ++row) {
      const int space = column + kColumns * row;
      for (const Counts& counts : reached[at(row)]) {
        reached[at(row) + 1].insert(counts);
        for (int length : {2, 3}) {
          bool fits = row + length <= rows && length <= std::max(2, legs_);
          for (int i = 0; i < length && fits; ++i) fits = is_open(space + kColumns * i);
          if (!fits) continue;
          Counts more = counts;
          ++more[length == 2 ? at(leg_of(space)) : at(legs_)];
          reached[at(row + length)].insert(std::move(more));
        }
      }
    }
    layouts_ = std::move(reached[at(rows)]);
  }
}

bool PanelRoom::holds(const std::int16_t* seats) const {
  const auto blocks = seats + 2 * legs_;
  for (const std::vector<std::int8_t>& layout : layouts_) {
    int pairs = 0;
    int asked = blocks[legs_];  // from any row
    bool fits = layout[at(legs_)] == blocks[legs_ + 1];
    for (int leg = 0; leg < legs_ && fits; ++leg) {
      pairs += layout[at(leg)];
      asked += blocks[leg];
      fits = layout[at(leg)] >= blocks[leg];
    }
    if (!fits || pairs != asked) continue;
    for (int leg = 0; leg < legs_ && fits; ++leg) {
      const int above = (leg + legs_ - 1) % legs_;
      const int left =
          left_on(leg, layout[at(leg)] + layout[at(above)] + layout[at(legs_)]);
      fits = seats[leg] <= left && seats[leg] + seats[legs_ + leg] <= left + halves_on(leg);
    }
    if (fits) return true;
  }
  return false;
}

}  // namespace evenleg
