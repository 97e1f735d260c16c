#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/tracing/traced_storey.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin::exchange {

/// Traces rooms, walls and openings of a building.
/// @param drawings   one a level, the lowest first, in metres
/// @param layers     what layers show; absent: by common words in their names
/// @param file_name  as the person named it, for the faults
/// @return at least one storey with at least one room; or why there is none: no layer of walls, no closed
/// room,
///         a plan larger than a site, more lines than are looked at
Result<TracedPlan> traced_plan(std::vector<Drawing> drawings, const std::optional<LayerMap>& layers,
                               const std::string& file_name);

}  // namespace linkmargin::exchange
