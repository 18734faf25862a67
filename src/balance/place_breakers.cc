// PanelRoom::place(): blocks laid so that least has to slide, then the singles around them.
#include <algorithm>
#include <cassert>
#include <map>

#include "evenleg/base/index.h"
#include "src/balance/panel_room.h"

namespace evenleg {
namespace {

// How many blocks are laid: of two by the leg of their first row, of two that stay where they are
// and may start anywhere by the same, of three.
using Counts = std::vector<std::int8_t>;

struct LaidBlock {
  int space = 0;
  int length = 0;
  int block = -1;  // that stays there; -1: any of the others
};

struct Layout {
  int cost = 0;  // circuits that slide, less those of blocks that stay
  std::vector<LaidBlock> laid;
};

// The cheapest layout for each set of counts.
using Layouts = std::map<Counts, Layout>;

void keep_cheaper(Layouts& layouts, const Counts& counts, const Layout& layout) {
  const auto [there, is_new] = layouts.try_emplace(counts, layout);
  if (!is_new && layout.cost < there->second.cost) there->second = layout;
}

class Placement {
 public:
  Placement(const PanelRoom& room, const std::vector<RoomBlock>& blocks,
            const std::vector<RoomSingle>& singles)
      : room_(room), blocks_(blocks), singles_(singles), taken_(at(room.spaces()) + 1, false),
        placed_(blocks.size(), false), done_(singles.size(), false),
        half_taken_(room.halves().size(), false) {}

  std::vector<Seated> run() {
    const Layouts layouts = lay_columns();
    const Layout* best = cheapest(layouts);
    assert(best != nullptr);  // holds() of their counts
    if (best == nullptr) return {};
    seat_blocks(best->laid);
    seat_those_that_stay();
    order_spaces();
    for (const bool may_share : {false, true}) {
      for (std::size_t s = 0; s < singles_.size(); ++s) {
        if (!done_[s] && singles_[s].may_share == may_share) seat(singles_[s]);
      }
    }
    return std::move(seated_);
  }

 private:
  [[nodiscard]] int legs() const { return room_.legs(); }

  // What laying a block over a space makes slide.
  [[nodiscard]] int slides(int space) const {
    int count = 0;
    for (const RoomSingle& single : singles_) {
      if (single.stays && !single.own_is_half && single.own_space == space) ++count;
    }
    return count;
  }

  [[nodiscard]] Layouts lay_columns() const {
    Layouts layouts{{Counts(2 * at(legs()) + 1, 0), Layout{}}};
    for (int column = 1; column <= std::min(kColumns, room_.spaces()); ++column) {
      const int rows = (room_.spaces() - column) / kColumns + 1;
      std::vector<Layouts> reached(at(rows) + 1);  // with all rows above decided
      reached[0] = std::move(layouts);
      for (int row = 0; row < rows; ++row) {
        for (const auto& [counts, layout] : reached[at(row)]) {
          keep_cheaper(reached[at(row) + 1], counts, layout);
          for (int length : {2, 3}) {
            if (row + length > rows || length > std::max(2, legs())) continue;
            lay(column + kColumns * row, length, counts, layout, reached[at(row + length)]);
          }
        }
      }
      layouts = std::move(reached[at(rows)]);
    }
    return layouts;
  }

  // A block of `length` from this space down: any, or one that stays there.
  void lay(int space, int length, const Counts& counts, const Layout& layout,
           Layouts& reached) const {
    int cost = 0;
    for (int i = 0; i < length; ++i) {
      if (!room_.is_open(space + kColumns * i)) return;
      cost += slides(space + kColumns * i);
    }
    const auto add = [&](int block, bool anywhere, int more) {
      Counts next = counts;
      ++next[length == 3 ? 2 * at(legs())
                         : at(room_.leg_of(space)) + (anywhere ? at(legs()) : 0)];
      Layout laid = layout;
      laid.cost += more;
      laid.laid.push_back({space, length, block});
      keep_cheaper(reached, next, laid);
    };
    add(-1, false, cost);
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      const RoomBlock& block = blocks_[b];
      if (block.own_space != space || block.length != length) continue;
      add(static_cast<int>(b), block.start < 0,
          cost - static_cast<int>(block.circuits.size()));
    }
  }

  // Of the layouts that seat all, the one with the least cost.
  [[nodiscard]] const Layout* cheapest(const Layouts& layouts) const {
    std::vector<int> wanted(at(legs()), 0), own(at(legs()), 0), all(at(legs()), 0);
    int pairs = 0;
    int triples = 0;
    for (const RoomBlock& block : blocks_) {
      ++(block.length == 3 ? triples : pairs);
      if (block.length == 2 && block.start >= 0) ++wanted[at(block.start)];
    }
    for (const RoomSingle& single : singles_) {
      ++all[at(single.leg)];
      if (!single.may_share) ++own[at(single.leg)];
    }
    const Layout* best = nullptr;
    for (const auto& [counts, layout] : layouts) {
      int laid = 0;
      bool fits = counts[2 * at(legs())] == triples;
      for (int leg = 0; leg < legs(); ++leg) {
        laid += counts[at(leg)] + counts[at(legs() + leg)];
        const int left = room_.left_on(leg, used(counts, leg));
        fits = fits && counts[at(leg)] >= wanted[at(leg)] && own[at(leg)] <= left &&
               all[at(leg)] <= left + room_.halves_on(leg);
      }
      if (fits && laid == pairs && (best == nullptr || layout.cost < best->cost)) best = &layout;
    }
    return best;
  }

  // Spaces of a leg that the blocks take.
  [[nodiscard]] int used(const Counts& counts, int leg) const {
    const int above = (leg + legs() - 1) % legs();
    return counts[at(leg)] + counts[at(above)] + counts[at(legs() + leg)] +
           counts[at(legs() + above)] + counts[2 * at(legs())];
  }

  void seat_block(std::size_t b, const LaidBlock& where) {
    placed_[b] = true;
    const RoomBlock& block = blocks_[b];
    if (block.circuits.size() == 1) seated_.push_back({block.circuits.front(), where.space});
    for (int i = 0; i < where.length; ++i) {
      const int space = where.space + kColumns * i;
      taken_[at(space)] = true;
      for (std::size_t c = 0; c < block.legs.size(); ++c) {
        if (block.legs[c] == room_.leg_of(space)) seated_.push_back({block.circuits[c], space});
      }
    }
  }

  // Those that stay, then those that need one leg, then the others.
  void seat_blocks(const std::vector<LaidBlock>& laid) {
    for (const LaidBlock& where : laid) {
      if (where.block >= 0) seat_block(at(where.block), where);
    }
    for (const bool particular : {true, false}) {
      for (std::size_t b = 0; b < blocks_.size(); ++b) {
        const RoomBlock& block = blocks_[b];
        if (placed_[b] || (block.start >= 0) != particular) continue;
        const auto where = std::find_if(laid.begin(), laid.end(), [&](const LaidBlock& free) {
          return free.block < 0 && !taken_[at(free.space)] && free.length == block.length &&
                 (block.start < 0 || block.start == room_.leg_of(free.space));
        });
        if (where != laid.end()) seat_block(b, *where);
      }
    }
  }

  void seat_those_that_stay() {
    for (std::size_t s = 0; s < singles_.size(); ++s) {
      const RoomSingle& single = singles_[s];
      if (!single.stays) continue;
      int half_leg = -1;
      if (single.own_is_half) {
        const std::size_t half = own_half(single);
        if (half == half_taken_.size()) continue;
        half_taken_[half] = true;
        half_leg = single.leg;
      } else {
        if (taken_[at(single.own_space)]) continue;
        taken_[at(single.own_space)] = true;
      }
      seated_.push_back({single.circuit, single.own_space, half_leg});
      done_[s] = true;
    }
  }

  // Spaces that circuits leave are used before those that are empty.
  void order_spaces() {
    std::vector<bool> left(at(room_.spaces()) + 1, false);
    for (const RoomSingle& single : singles_) {
      if (!single.own_is_half) left[at(single.own_space)] = true;
    }
    for (const bool leaves : {true, false}) {
      for (int space = 1; space <= room_.spaces(); ++space) {
        if (room_.is_open(space) && left[at(space)] == leaves) order_.push_back(space);
      }
    }
  }

  void seat(const RoomSingle& single) {
    int space = free_space(single.leg);
    if (space == 0 && !single.may_share) space = make_room(single.leg);
    if (space > 0) {
      taken_[at(space)] = true;
      seated_.push_back({single.circuit, space});
      return;
    }
    const std::size_t half = free_half(single.leg);
    assert(half < half_taken_.size());
    if (half == half_taken_.size()) return;
    half_taken_[half] = true;
    seated_.push_back({single.circuit, room_.halves()[half].space, single.leg});
  }

  // Puts one that may share into half of a tandem breaker and gives its space; 0: there is none.
  int make_room(int leg) {
    const std::size_t half = free_half(leg);
    if (half == half_taken_.size()) return 0;
    for (Seated& other : seated_) {
      const auto single =
          std::find_if(singles_.begin(), singles_.end(),
                       [&](const RoomSingle& s) { return s.circuit == other.circuit; });
      if (single == singles_.end() || !single->may_share || other.is_half() || single->leg != leg) {
        continue;
      }
      const int space = other.space;
      half_taken_[half] = true;
      other = {other.circuit, room_.halves()[half].space, leg};
      return space;
    }
    return 0;
  }

  [[nodiscard]] int free_space(int leg) const {
    for (int space : order_) {
      if (!taken_[at(space)] && room_.leg_of(space) == leg) return space;
    }
    return 0;
  }
  [[nodiscard]] std::size_t free_half(int leg) const {
    std::size_t half = 0;
    while (half < half_taken_.size() && (half_taken_[half] || room_.halves()[half].leg != leg)) {
      ++half;
    }
    return half;
  }
  [[nodiscard]] std::size_t own_half(const RoomSingle& single) const {
    std::size_t half = 0;
    while (half < half_taken_.size() && room_.halves()[half].circuit != single.circuit) ++half;
    return half;
  }

  const PanelRoom& room_;
  const std::vector<RoomBlock>& blocks_;
  const std::vector<RoomSingle>& singles_;
  std::vector<Seated> seated_;
  std::vector<bool> taken_;  // by space
  std::vector<bool> placed_, done_, half_taken_;
  std::vector<int> order_;  // spaces
};

}  // namespace

std::vector<Seated> PanelRoom::place(const std::vector<RoomBlock>& blocks,
                                     const std::vector<RoomSingle>& singles) const {
  return Placement(*this, blocks, singles).run();
}

}  // namespace evenleg
