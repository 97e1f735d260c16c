#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/drawing.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::exchange {

/// Reads a plan in GeoJSON (RFC 7946), its places in local metres: polygons are rooms with their `name`,
/// lines are of a `kind`, wall, door or window, and may have a `thickness_m`. A `level`, a name or a number,
/// says which storey a feature is of, `level_m` and `height_m` how that storey lies.
/// @param bytes      UTF-8
/// @param file_name  as the person named it, for the faults
/// @return a drawing a level, the lowest first, with a layer a kind; or the faults of the file by line and
///         column: no JSON, no GeoJSON, a place that is none, degrees instead of metres
Result<std::vector<Drawing>> parse_geojson(std::string_view bytes, const std::string& file_name);

}  // namespace linkmargin::exchange
