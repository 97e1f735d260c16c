#pragma once

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"
#include "linkmargin/link/shading.hpp"

#include <vector>

namespace linkmargin {

/// The corners of a scene: where an end of a wall meets other walls, and those of obstacles. An end that
/// meets nothing is a gap instead.
std::vector<Corner> find_corners(const Scene& scene);

/// Round each kCornerRun corners that follow each other: corners far from a line are passed over together.
std::vector<Box2> corner_boxes(const std::vector<Corner>& corners);

inline constexpr std::size_t kCornerRun = 8;

/// What passes beside a corner that the straight line just clears or just meets, as a change of the line's
/// loss.
///
/// A line on one side of the spot where a wall meets another passes one wall, on the other side two. The wave
/// is wider than the line: of its amplitude the share of a half plane (the Fresnel integral) takes the one
/// way, the rest the other. Counted are the nearest two corners on either side, up to three Fresnel zones
/// away, fading out from two on.
/// @param passed_db  what the straight line passes, gaps and obstacles included
/// @param shares     between the path's ends
/// @return decibels to add to passed_db, either sign; 0 without corners near. Continuous where the line moves
/// over a
///         corner. Swapping the path's ends changes nothing: trace() has put them in order.
double corner_change_db(const Path& path, double passed_db, GapShares& shares);

}  // namespace linkmargin
