// PanelRoom::place(): blocks laid so that least has to slide, then the singles around them.
#include <algorithm>
#include <cassert>
#include <map>

#include "src/balance/panel_room.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

constexpr int kColumns = 2;

// How many blocks are laid: of two by the leg of their first row, of two that stay where they are
// and may start anywhere by the same, of three.
using Counts = std::vector<std::int8_t>;

struct LaidBlock {
  int space = 0;
  int length = 0;
  int block = -1;  // that stays there; -1: any of the others
};

struct Layout {
  int cost = 0;  // circuits that slide
  std::vector<LaidBlock> laid;
};

using Layouts = std::map<Counts, Layout>;

void keep_cheaper(Layouts& layouts, const Counts& counts, const Layout& layout) {
  const auto [there, is_new] = layouts.try_emplace(counts, layout);
  if (!is_new && layout.cost < there->second.cost) there->second = layout;
}

}  // namespace

std::vector<Seated> PanelRoom::place(const std::vector<RoomBlock>& blocks,
                                     const std::vector<RoomSingle>& singles) const {
  const int spaces = static_cast<int>(open_.size());
  // What laying a block over a space makes slide.
  std::vector<int> over(at(spaces) + 1, 0);
  for (const RoomSingle& single : singles) {
    if (single.stays && !single.own_is_half && single.own_space > 0) ++over[at(single.own_space)];
  }
  Layouts layouts{{Counts(2 * at(legs_) + 1, 0), {}}};
  for (int column = 1; column <= kColumns && column <= spaces; ++column) {
    const int rows = (spaces - column) / kColumns + 1;
    std::vector<Layouts> reached(at(rows) + 1);
    reached[0] = std::move(layouts);
    for (int row = 0; row < rows; ++row) {
      const int space = column + kColumns * row;
      for (const auto& [counts, layout] : reached[at(row)]) {
        keep_cheaper(reached[at(row) + 1], counts, layout);
        for (int length : {2, 3}) {
          bool fits = row + length <= rows && length <= std::max(2, legs_);
          int cost = 0;
          for (int i = 0; i < length && fits; ++i) {
            fits = open(space + kColumns * i);
            if (fits) cost += over[at(space + kColumns * i)];
          }
          if (!fits) continue;
          const auto lay = [&](int block, bool anywhere, int more) {
            Counts next = counts;
            ++next[length == 3 ? 2 * at(legs_)
                               : at(leg_of(space)) + (anywhere ? at(legs_) : 0)];
            Layout laid = layout;
            laid.cost += more;
            laid.laid.push_back({space, length, block});
            keep_cheaper(reached[at(row + length)], next, laid);
          };
          lay(-1, false, cost);
          for (std::size_t b = 0; b < blocks.size(); ++b) {
            const RoomBlock& block = blocks[b];
            if (block.own_space != space || block.length != length) continue;
            // One that stays saves sliding as many circuits as it has.
            lay(static_cast<int>(b), block.start < 0,
                cost - static_cast<int>(block.circuits.size()));
          }
        }
      }
    }
    layouts = std::move(reached[at(rows)]);
  }

  // The cheapest layout that seats all.
  std::vector<int> wanted(at(legs_), 0);
  int pairs = 0;
  int triples = 0;
  for (const RoomBlock& block : blocks) {
    if (block.length == 3) ++triples;
    if (block.length == 2) ++pairs;
    if (block.length == 2 && block.start >= 0) ++wanted[at(block.start)];
  }
  std::vector<int> own(at(legs_), 0), all(at(legs_), 0);
  for (const RoomSingle& single : singles) {
    ++all[at(single.leg)];
    if (!single.may_share) ++own[at(single.leg)];
  }
  const Layout* best = nullptr;
  for (const auto& [counts, layout] : layouts) {
    int laid = 0;
    bool fits = counts[2 * at(legs_)] == triples;
    for (int leg = 0; leg < legs_ && fits; ++leg) {
      laid += counts[at(leg)] + counts[at(legs_ + leg)];
      fits = counts[at(leg)] >= wanted[at(leg)];
    }
    if (!fits || laid != pairs) continue;
    for (int leg = 0; leg < legs_ && fits; ++leg) {
      const int above = (leg + legs_ - 1) % legs_;
      const int left = spaces_on_[at(leg)] - counts[at(leg)] - counts[at(above)] -
                       counts[at(legs_ + leg)] - counts[at(legs_ + above)] -
                       counts[2 * at(legs_)];
      fits = own[at(leg)] <= left && all[at(leg)] <= left + halves_on_[at(leg)];
    }
    if (fits && (best == nullptr || layout.cost < best->cost)) best = &layout;
  }
  std::vector<Seated> seated;
  assert(best != nullptr);  // holds() of their counts
  if (best == nullptr) return seated;

  std::vector<bool> taken(at(spaces) + 1, false);
  std::vector<bool> placed(blocks.size(), false);
  const auto seat_block = [&](std::size_t b, const LaidBlock& where) {
    placed[b] = true;
    const RoomBlock& block = blocks[b];
    for (int i = 0; i < where.length; ++i) {
      const int space = where.space + kColumns * i;
      taken[at(space)] = true;
      if (block.circuits.size() == 1) continue;
      for (std::size_t c = 0; c < block.circuits.size(); ++c) {
        if (block.legs[c] == leg_of(space)) seated.push_back({block.circuits[c], space});
      }
    }
    if (block.circuits.size() == 1) seated.push_back({block.circuits.front(), where.space});
  };
  for (const LaidBlock& where : best->laid) {
    if (where.block >= 0) seat_block(at(where.block), where);
  }
  for (const bool particular : {true, false}) {  // those that need one leg choose first
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      const RoomBlock& block = blocks[b];
      if (placed[b] || (block.start >= 0) != particular) continue;
      for (const LaidBlock& where : best->laid) {
        if (where.block >= 0 || taken[at(where.space)] || where.length != block.length) continue;
        if (block.start >= 0 && block.start != leg_of(where.space)) continue;
        seat_block(b, where);
        break;
      }
    }
  }

  // Singles that stay, then those that need a space of their own, then the others.
  std::vector<bool> half_taken(halves_.size(), false);
  std::vector<bool> done(singles.size(), false);
  const auto half_of = [&](const RoomSingle& single) {
    for (std::size_t h = 0; h < halves_.size(); ++h) {
      if (halves_[h].space == single.own_space && halves_[h].circuit == single.circuit) return h;
    }
    return halves_.size();
  };
  for (std::size_t s = 0; s < singles.size(); ++s) {
    const RoomSingle& single = singles[s];
    if (!single.stays) continue;
    if (single.own_is_half) {
      const std::size_t h = half_of(single);
      if (h == halves_.size()) continue;
      half_taken[h] = true;
      seated.push_back({single.circuit, single.own_space, true});
      done[s] = true;
    } else if (single.own_space > 0 && !taken[at(single.own_space)]) {
      taken[at(single.own_space)] = true;
      seated.push_back({single.circuit, single.own_space});
      done[s] = true;
    }
  }
  // Spaces that circuits leave are used before those that are empty, in order.
  std::vector<int> order;
  std::vector<bool> left(at(spaces) + 1, false);
  for (const RoomSingle& single : singles) {
    if (single.own_space > 0 && !single.own_is_half) left[at(single.own_space)] = true;
  }
  for (const bool leaves : {true, false}) {
    for (int space = 1; space <= spaces; ++space) {
      if (open(space) && left[at(space)] == leaves) order.push_back(space);
    }
  }
  const auto free_space = [&](int leg) {
    for (int space : order) {
      if (!taken[at(space)] && leg_of(space) == leg) return space;
    }
    return 0;
  };
  const auto free_half = [&](int leg) {
    for (std::size_t h = 0; h < halves_.size(); ++h) {
      if (!half_taken[h] && halves_[h].leg == leg) return h;
    }
    return halves_.size();
  };
  for (const bool share : {false, true}) {
    for (std::size_t s = 0; s < singles.size(); ++s) {
      const RoomSingle& single = singles[s];
      if (done[s] || single.may_share != share) continue;
      done[s] = true;
      int space = free_space(single.leg);
      if (space == 0 && !share) {
        // One that may share makes room.
        for (Seated& other : seated) {
          const auto it = std::find_if(singles.begin(), singles.end(), [&](const RoomSingle& x) {
            return x.circuit == other.circuit;
          });
          const std::size_t h = free_half(single.leg);
          if (it == singles.end() || !it->may_share || other.is_half || it->leg != single.leg ||
              h == halves_.size()) {
            continue;
          }
          space = other.space;
          half_taken[h] = true;
          other = {other.circuit, halves_[h].space, true};
          break;
        }
      }
      if (space > 0) {
        taken[at(space)] = true;
        seated.push_back({single.circuit, space});
        continue;
      }
      const std::size_t h = free_half(single.leg);
      assert(h < halves_.size());
      if (h == halves_.size()) continue;
      half_taken[h] = true;
      seated.push_back({single.circuit, halves_[h].space, true});
    }
  }
  return seated;
}

}  // namespace evenleg
