#pragma once

#include "linkmargin/exchange/tracing/traced_storey.hpp"
#include "linkmargin/text/faults.hpp"

#include <optional>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// Walls of one storey; the crossings of their lines.
inline constexpr std::size_t kMostWalls = 20'000;
inline constexpr std::size_t kMostWallPieces = 60'000;  ///< as drawn
inline constexpr std::size_t kMostCrossings = 200'000;

/// Traces one level. @param roles  of its layers
/// @return a storey, perhaps without rooms; nothing, and a fault, where there are too many lines
std::optional<TracedStorey> traced_storey(Drawing& drawing,
                                          const std::vector<std::optional<LayerRole>>& roles,
                                          TracedPlan& plan, Faults& faults);

}  // namespace linkmargin::exchange
