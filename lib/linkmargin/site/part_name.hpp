#pragma once

#include "linkmargin/base/enum_name.hpp"

#include <string>
#include <vector>

namespace linkmargin {

struct WallPiece;

/// What a part of a building is.
enum class PartKind {
  none,
  own,           ///< goes by the name that the site gives it: an opening, an obstacle
  traced_wall,   ///< goes by its own name as well
  outer_wall,    ///< of a room
  wall_between,  ///< two rooms
  outer_walls,   ///< of a storey, all of them
  inner_walls,
  floor,  ///< of a storey
  roof,   ///< of a storey or a room
  gap     ///< between two walls
};

/// Which piece of it is meant.
enum class PartPiece { whole, end, top, eaves };

/// As JSON has them.
inline constexpr EnumName<PartKind> kPartKinds[] = {{"none", PartKind::none},
                                                    {"own", PartKind::own},
                                                    {"traced_wall", PartKind::traced_wall},
                                                    {"outer_wall", PartKind::outer_wall},
                                                    {"wall_between", PartKind::wall_between},
                                                    {"outer_walls", PartKind::outer_walls},
                                                    {"inner_walls", PartKind::inner_walls},
                                                    {"floor", PartKind::floor},
                                                    {"roof", PartKind::roof},
                                                    {"gap", PartKind::gap}};
inline constexpr EnumName<PartPiece> kPartPieces[] = {{"whole", PartPiece::whole},
                                                      {"end", PartPiece::end},
                                                      {"top", PartPiece::top},
                                                      {"eaves", PartPiece::eaves}};

/// What a part of a building is called, before it is said in a language.
struct PartName {
  PartKind kind = PartKind::none;
  PartPiece piece = PartPiece::whole;
  std::string first{};            ///< its own name, or that of its room or storey
  std::string second{};           ///< the other room of a wall between two
  std::vector<PartName> walls{};  ///< the two of a gap
  bool operator==(const PartName&) const = default;
};

/// Of a thing that a person named.
PartName own_name(std::string name);
/// Of a piece of wall, by the rooms at its sides.
PartName wall_name(const WallPiece& piece);
/// An end, the top or the eaves of a thing.
PartName piece_of(PartName whole, PartPiece piece);
/// Of the gap between the ends of two walls.
PartName gap_between(PartName wall, PartName other);

}  // namespace linkmargin
