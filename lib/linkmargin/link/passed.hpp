#pragma once

#include "linkmargin/link/path.hpp"

namespace linkmargin {

/// What a straight line passes, its bending round edges and corners counted where the scene counts ways round: the
/// sum of what path_loss() lists after the distance. It changes gradually where the line moves over an edge.
/// @return decibels; can be slightly negative where an edge is clear by about one zone
double passed_db(const Scene& scene, const Path& path);

}  // namespace linkmargin
