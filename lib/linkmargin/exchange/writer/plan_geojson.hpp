#pragma once

#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <string>

namespace linkmargin::exchange {

/// The plan as GeoJSON (RFC 7946), its places in the site's metres: rooms as polygons with `name`, walls,
/// doors and windows as lines with `kind`, hubs, repeaters and devices as points; each with the `level` of
/// its storey, `level_m` and `height_m`. parse_geojson() and traced_plan() read the same rooms from it.
/// @param site    sound: validate(site) is empty
/// @param storey  position in Site::storeys; absent: all
std::string plan_geojson(const Site& site, std::optional<std::size_t> storey = {});

}  // namespace linkmargin::exchange
