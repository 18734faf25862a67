// Where breakers can sit in one panel: its spaces as two columns of rows, each row on the next leg
// of the bus, and the halves of tandem breakers beside them.
//
// A *block* takes two or three spaces one above the other, from a row of a given leg or of any; a
// *single* takes one space of its leg, or half of a tandem breaker there if it may. Blocks are laid
// first, row by row, by dynamic programming over how many of each sort are laid so far; what is
// left of each leg then seats the singles whatever the order, so that counts alone decide.
#pragma once

#include <set>
#include <vector>

#include "src/balance/spread_search.h"

namespace evenleg {

inline constexpr int kColumns = 2;  // odd spaces left, even ones right

// The leg of the first row of a multiwire's block on a bus of so many legs; -1 where any will do.
[[nodiscard]] int start_of_block(const std::vector<int>& legs, std::size_t bus_legs);

// Legs here are positions on the panel's bus.
struct TandemHalf {
  int space = 0;
  int leg = 0;
  int circuit = -1;  // as found
};

struct RoomBlock {
  std::vector<int> circuits;  // one of two poles, or those of a multiwire
  std::vector<int> legs;      // of each circuit of a multiwire, where it is to sit; else empty
  int length = 2;
  int start = -1;       // leg of its first row; -1: any
  int own_space = -1;   // where it is as found, if it may stay there
};

struct RoomSingle {
  int circuit = 0;
  int leg = 0;
  bool may_share = false;  // a tandem breaker may hold it
  int own_space = -1;      // as found
  bool own_is_half = false;
  bool stays = false;      // keeps its leg
};

struct Seated {
  int circuit = 0;
  int space = 0;
  int half_leg = -1;  // of the half of a tandem breaker that holds it; -1: a space of its own
  [[nodiscard]] bool is_half() const { return half_leg >= 0; }
};

class PanelRoom {
 public:
  PanelRoom() = default;
  // `open`: by space less one, whether breakers may be put there; `halves`: those that may be used.
  PanelRoom(int legs, std::vector<bool> open, std::vector<TandemHalf> halves);

  // What a panel's part of Seats counts, in this order: singles that need a space of their own by
  // leg, singles that may share by leg, blocks of two by the leg of their first row, blocks of two
  // from any row, blocks of three.
  [[nodiscard]] std::size_t seat_sorts() const { return 3 * static_cast<std::size_t>(legs_) + 2; }
  [[nodiscard]] std::size_t own_seat(int leg) const { return static_cast<std::size_t>(leg); }
  [[nodiscard]] std::size_t shared_seat(int leg) const {
    return static_cast<std::size_t>(legs_ + leg);
  }
  // `start` -1: from any row.
  [[nodiscard]] std::size_t pair_seat(int start) const {
    return static_cast<std::size_t>(2 * legs_ + (start < 0 ? legs_ : start));
  }
  [[nodiscard]] std::size_t triple_seat() const {
    return static_cast<std::size_t>(3 * legs_ + 1);
  }

  // Whether so many can be seated. `seats`: this panel's part.
  [[nodiscard]] bool holds(const std::int16_t* seats) const;

  // A place for each, those that stay named too. Blocks are laid where they make the fewest
  // circuits slide that keep their legs. Requires: holds() of their counts.
  [[nodiscard]] std::vector<Seated> place(const std::vector<RoomBlock>& blocks,
                                          const std::vector<RoomSingle>& singles) const;

  [[nodiscard]] int leg_of(int space) const { return (space - 1) / 2 % legs_; }
  [[nodiscard]] int legs() const { return legs_; }
  [[nodiscard]] int spaces() const { return static_cast<int>(open_.size()); }
  [[nodiscard]] bool is_open(int space) const;
  // Open spaces of a leg besides `used` of them.
  [[nodiscard]] int left_on(int leg, int used) const;
  [[nodiscard]] const std::vector<TandemHalf>& halves() const { return halves_; }
  [[nodiscard]] int halves_on(int leg) const;

 private:
  void list_layouts();

  int legs_ = 0;
  std::vector<bool> open_;
  std::vector<TandemHalf> halves_;
  std::vector<int> spaces_on_;  // open spaces by leg
  std::vector<int> halves_on_;
  // Every way that blocks can be laid, as counts: blocks of two by leg of the first row, then of
  // three.
  std::set<std::vector<std::int8_t>> layouts_;
};

}  // namespace evenleg
