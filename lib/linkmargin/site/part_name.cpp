#include "linkmargin/site/part_name.hpp"

#include "linkmargin/site/wall_plan.hpp"

#include <utility>

namespace linkmargin {

PartName own_name(std::string name) {
  return {.kind = PartKind::own, .first = std::move(name)};
}

PartName wall_name(const WallPiece& piece) {
  if (!piece.traced.empty()) return {.kind = PartKind::traced_wall, .first = piece.traced};
  if (piece.second == kOutside) return {.kind = PartKind::outer_wall, .first = piece.first};
  return {.kind = PartKind::wall_between, .first = piece.first, .second = piece.second};
}

PartName piece_of(PartName whole, PartPiece piece) {
  whole.piece = piece;
  return whole;
}

PartName gap_between(PartName wall, PartName other) {
  PartName gap{.kind = PartKind::gap};
  gap.walls.push_back(std::move(wall));
  gap.walls.push_back(std::move(other));
  return gap;
}

}  // namespace linkmargin
