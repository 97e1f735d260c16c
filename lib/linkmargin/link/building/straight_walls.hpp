#pragma once

#include "linkmargin/site/wall_plan.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// A piece of the plan as a part of a straight wall.
struct StraightPart {
  std::size_t piece;  ///< position in the plan
  bool turned;        ///< it runs from its b to its a
};

/// The walls of a storey, each from end to end: pieces of one construction and height that go on in one line
/// where nothing else meets them are one wall, in however many pieces it was drawn. A wall begins where its
/// first piece does; the walls stand in the order of their first pieces.
/// @param roof  by piece: what ends on it; pieces under different roofs are different walls
std::vector<std::vector<StraightPart>> straight_walls(const std::vector<WallPiece>& plan,
                                                      std::span<const std::uint32_t> roof);

}  // namespace linkmargin
