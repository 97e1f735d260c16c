#pragma once

#include "linkmargin/site/sheet_side.hpp"

/// Not installed.
namespace linkmargin::layout {

/// A side of a room as it is drawn: top is up the sheet.
using Side = SheetSide;
using linkmargin::is_upright;
using linkmargin::kSideWords;
using linkmargin::side_word;

/// Whether the outside of a room on that side lies towards smaller coordinates.
constexpr bool is_lower(Side side) {
  return side == Side::left || side == Side::bottom;
}

constexpr Side opposite(Side side) {
  switch (side) {
    case Side::left:
      return Side::right;
    case Side::right:
      return Side::left;
    case Side::bottom:
      return Side::top;
    default:
      return Side::bottom;
  }
}

/// How far what a person measures to lies inside the line that is drawn, on each side of a room: nothing
/// where sizes count to the middle of the walls, half a wall where they were measured inside.
struct Inset {
  double left_m = 0;
  double right_m = 0;
  double bottom_m = 0;
  double top_m = 0;

  double& of(Side side) {
    return side == Side::left     ? left_m
           : side == Side::right  ? right_m
           : side == Side::bottom ? bottom_m
                                  : top_m;
  }
  double of(Side side) const { return Inset(*this).of(side); }
  friend bool operator==(const Inset&, const Inset&) = default;
};

}  // namespace linkmargin::layout
