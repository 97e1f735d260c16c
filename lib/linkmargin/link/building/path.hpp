#pragma once

#include "linkmargin/geometry/point.hpp"
#include "linkmargin/link/building/building.hpp"

#include <cstdint>
#include <vector>

namespace linkmargin {

/// Two ends nearer than this are counted as this far apart: closer in, neither far-field formulas nor a
/// reading mean anything (common practice; a quarter wave at 868 MHz is 0.086 m).
inline constexpr double kNearestM = 0.1;  ///< doubled or halved, no loss moves

/// One passage through something.
struct Crossing {
  std::uint32_t barrier = 0;       ///< position in Building::barriers(); kNone: the air of an aperture
  double fraction = 0;             ///< where, from 0 at `from` to 1 at `to`
  double incidence_cos = 1;        ///< cosine of the angle from the normal, (0, 1]; 1 for an obstacle
  std::uint32_t wall = kNone;      ///< position in Building::walls(); none for slabs and obstacles
  std::uint32_t obstacle = kNone;  ///< position in Building::obstacles(), for an obstacle
  friend bool operator==(const Crossing&, const Crossing&) = default;
};

/// The straight line between two points and what it passes through, in order from the lexicographically first
/// end (x, then y, then z), whichever end was named first: swapping the ends gives the same bits.
struct Path {
  Point3 from;
  Point3 to;
  double distance_m = 0;
  std::vector<Crossing> crossings;  ///< the air of apertures too: what the line passes clear of an edge

  Point3 at(double fraction) const {
    return {from.x + fraction * (to.x - from.x), from.y + fraction * (to.y - from.y),
            from.z + fraction * (to.z - from.z)};
  }
};

/// What the straight line crosses. The ends' plan coordinates are snapped first (see geometry/point.hpp).
/// - Panels: half-open in plan (see crosses()) and in height.
/// - Plates: crossed when the ends lie on different sides, an end on the slab counting as above it; not
///   in their holes.
/// - Obstacles: once, when some part of the line longer than nothing runs inside; an end inside an obstacle
/// has it to cross.
Path trace(const Building& building, Point3 a, Point3 b);

/// The crossings of trace() alone, in no order, into a vector that holds memory already.
void find_crossings(const Building& building, Point3 a, Point3 b, std::vector<Crossing>& found);

/// trace() by a plain loop over everything: its oracle.
Path trace_by_scan(const Building& building, Point3 a, Point3 b);

/// What a crossing costs by itself, whatever bends round edges there; 0 for the air of an aperture.
double plain_loss_db(const Building& building, const Crossing& crossing);

}  // namespace linkmargin
