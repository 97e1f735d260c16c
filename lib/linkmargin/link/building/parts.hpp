#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/site/part_name.hpp"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace linkmargin {

/// armed: every leaf closed, as when the system is set. open: every leaf that opens stands open.
enum class Doors { armed, open };

/// What a part of the path costs; the parts of a link add up to its path loss.
enum class LossCause {
  distance,  ///< by the model's law of distance
  ground,    ///< the reflection by the ground
  wall,
  opening,
  floor,
  obstacle,
  edge,             ///< an edge of an aperture, beside or under the line
  beside_gap,       ///< an edge of a wall at an aperture that the line misses
  round,            ///< what comes round an obstacle
  corner,           ///< corners that the line just clears or just meets
  bend,             ///< at an aperture that a way round passes
  other_ways,       ///< what ways beside the strongest one add
  slab_reflection,  ///< waves by way of floor and ceiling
  reverberation,    ///< what rooms scatter
};

/// How far off a wall's line a leg begins: clear of the ends of walls that join it there.
inline constexpr double kFootM = 0.03;  ///< assumption; doubled, halved: 3.1, 2.1 dB at most, 0.2 rms

/// Something that stands in the way, with what it costs to pass.
struct Barrier {
  LossCause cause = LossCause::wall;
  PartName name;
  std::string material;   ///< what it is made of, thickness included: "brick 0.24 m"
  std::string table_row;  ///< of the table of materials: "brick"
  Transmission transmission;
};

/// In place of a position: there is none.
inline constexpr std::uint32_t kNone = 0xFFFFFFFF;

/// A way through or past a wall: an opening, a free end, the air over a low wall.
struct Aperture {
  PartName name;        ///< an opening, an end of a wall, its top, a gap
  Segment2 base;        ///< in plan, along the wall
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  bool edge_a = true;             ///< whether the aperture ends in an edge at base.a ...
  bool edge_b = true;             ///< ... and at base.b, or goes on there
  bool edge_bottom = false;       ///< a sill, or the top of a low wall; the floor is no edge
  bool edge_top = false;          ///< a lintel; the ceiling is no edge
  bool open_a = false;            ///< whether the air goes on past base.a ...
  bool open_b = false;            ///< ... past base.b ...
  bool open_top = false;          ///< ... and over the top: nothing bends there
  Point2 normal;                  ///< of the wall, length 1; its sign tells the two sides apart
  std::uint32_t barrier = kNone;  ///< the leaf; none: open
  std::uint32_t line = kNone;     ///< position in Building::wall_lines()
  double wall_db = 0;             ///< what its wall costs at right angles; 0: none stands beside it
  bool at_eaves = false;  ///< over the wall, under a roof: what passes there counts with the wall, no way is
                          ///< laid through it
};

/// A straight piece of wall, or the air between the ends of two that face each other.
struct Wall {
  std::uint32_t barrier = kNone;  ///< what it is made of; none: open plan, or air between two
  std::uint32_t line = kNone;     ///< position in Building::wall_lines()
  Segment2 base;
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  std::uint32_t eaves = kNone;  ///< lining of the roof that ends on it; none: no roof does
  std::array<std::uint32_t, 2> beside{kNone, kNone};  ///< of air between two: what these are made of
};

/// Walls in one line with nothing but apertures between their ends: one wall to all that bends round its
/// edges.
struct WallLine {
  std::vector<std::uint32_t> apertures;  ///< positions in Building::apertures()
};

/// An upright rectangle over a segment of the plan: wall, leaf, lintel or parapet, or the air of an aperture.
struct Panel {
  Segment2 base;
  double bottom_m = 0;  ///< above the site's zero; half-open: bottom counts, top does not
  double top_m = 0;
  Point2 normal;                  ///< of the whole wall, length 1; its sign means nothing
  std::uint32_t barrier = kNone;  ///< none: air
  std::uint32_t wall = kNone;     ///< position in Building::walls()
  bool beyond = false;            ///< air past a free end of its wall
};

/// A level sheet: the slab under a storey, or a roof where no room of a storey above lies, one piece a room.
struct Slab {
  Polygon2 outline;
  double z_m = 0;
  std::uint32_t barrier = 0;
  Box2 box{};  ///< of the outline
  /// Stairwells and shafts; of a roof, the rooms above. Nothing is met there; half-open as the outline.
  std::vector<Polygon2> holes{};
};

/// An upright prism: an obstacle.
struct ObstaclePrism {
  Polygon2 outline;
  Box2 box;  ///< of the outline
  double bottom_m = 0;
  double top_m = 0;
  std::uint32_t barrier = 0;
};

/// The air of a storey: from its floor to its ceiling, above the site's zero.
struct StoreySpace {
  double floor_m = 0;
  double ceiling_m = 0;
};

/// The air of a room, with the slabs under and over it.
struct RoomSpace {
  std::uint32_t storey = 0;  ///< position in Building::storeys()
  Polygon2 outline;
  Box2 box;
  double bottom_m = 0;
  double top_m = 0;
};

/// All that stands in a building. Positions are those in these lists.
struct BuildingParts {
  std::vector<Barrier> barriers;
  std::vector<Panel> panels;
  /// What closes the chinks where a wall's end was typed a little short of another wall. No line is taken to
  /// be stopped by them; they tell rooms apart.
  std::vector<Panel> joints;
  std::vector<Wall> walls;
  std::vector<WallLine> wall_lines;
  std::vector<Aperture> apertures;
  std::vector<Slab> slabs;  ///< by level, the lowest first
  std::vector<ObstaclePrism> obstacles;
  std::vector<StoreySpace> storeys;
  std::vector<RoomSpace> rooms;
};

}  // namespace linkmargin
