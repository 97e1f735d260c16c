#pragma once

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"

#include <vector>

namespace linkmargin {

/// The corners of a scene: where an end of a wall meets other walls, and those of obstacles. An end that
/// meets nothing is a gap instead.
std::vector<Corner> find_corners(const Scene& scene);

/// What passes beside a corner that the straight line just clears or just meets, as a change of the line's
/// loss.
///
/// A line on one side of the spot where a wall meets another passes one wall, on the other side two. The wave
/// is wider than the line: of its amplitude the share of a half plane (the Fresnel integral) takes the one
/// way, the rest the other. Counted are the nearest two corners on either side, up to three Fresnel zones
/// away, fading out from two on.
/// @param passed_db  what the straight line passes, gaps and obstacles included
/// @return decibels to add to passed_db, either sign; 0 without corners near. Continuous where the line moves
/// over a
///         corner. Swapping the path's ends changes nothing: trace() has put them in order.
double corner_change_db(const Scene& scene, const Path& path, double passed_db);

}  // namespace linkmargin
