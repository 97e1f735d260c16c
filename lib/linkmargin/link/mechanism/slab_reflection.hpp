#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"

namespace linkmargin {

/// What floor and ceiling reflect as waves: the link's first mirror images in the floor and the ceiling of
/// either end's storey, added by amplitude and phase to what arrives otherwise. Polarisation is that of two
/// antennas of unknown orientation. What an image's two legs cross counts by its loss, and turns no phase
/// against the straight line's, which crosses the same. Waves that bounce more often, or on walls, are the
/// diffuse field's.
///
/// Swapping the ends changes it by rounding only.
/// @param direct_db  loss of what arrives otherwise, over free space
/// @return the change of the loss, decibels: negative where they bring more, at most 15.2
/// Source: mirror images, textbook optics; the slab's own reflection, slab_reflection().
double slab_reflection_db(const Building& building, const Path& path, double direct_db);

}  // namespace linkmargin
