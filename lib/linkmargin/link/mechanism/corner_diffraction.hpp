#pragma once

#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/mechanism/aperture_diffraction.hpp"
#include "linkmargin/link/mechanism/corners.hpp"

namespace linkmargin {

/// What passes beside a corner that the straight line just clears or just meets, as a change of the line's
/// loss.
///
/// A line on one side of the spot where a wall meets another passes one wall, on the other side two. The wave
/// is wider than the line: of its amplitude the share of a half plane (the Fresnel integral) takes the one
/// way, the rest the other. Counted are the nearest two corners on either side, up to three Fresnel zones
/// away, fading out from two on.
/// @param passed_db  what the straight line passes, apertures and obstacles included
/// @param corners    of the building
/// @param shares     between the path's ends
/// @return decibels to add to passed_db, either sign; 0 without corners near. Continuous where the line moves
/// over a
///         corner. Swapping the path's ends changes nothing: trace() has put them in order.
double corner_diffraction_db(const Corners& corners, const Path& path, double passed_db,
                             ApertureCache& shares);

}  // namespace linkmargin
