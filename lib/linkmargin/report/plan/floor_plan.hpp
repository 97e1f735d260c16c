#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <string>

namespace linkmargin {

struct FloorPlanOptions {
  std::optional<std::size_t> storey;  ///< position in Site::storeys; absent: all, the highest at the top
};

/// The plan as typed, as an SVG sheet: rooms, walls by kind and thickness, openings in them and in the floor,
/// obstacles, radios with their names, areas, rulers in site metres, a scale bar and a legend. Names never
/// overlap each other nor leave the sheet; those for which no room is left are counted under the plan and
/// stay readable as tooltips.
/// @param site sound: validate(site) is empty
std::string floor_plan_svg(const Language& language, const Site& site, const FloorPlanOptions& options = {});

}  // namespace linkmargin
