#pragma once

#include "linkmargin/link/building/loss_item.hpp"
#include "linkmargin/link/building/path.hpp"

#include <optional>

namespace linkmargin {

/// The lowest that an end counts to stand over the ground: so near to it a height means little (common
/// practice).
inline constexpr double kLeastGroundHeightM = 0.1;  ///< no measured link counts the ground

/// What the reflection by the ground costs a link over free space, as an item of its own. The ground lies at
/// the site's zero, flat and reflecting; an end under it, or lower than kLeastGroundHeightM, counts as that
/// high.
/// @return nothing when the site does not ask for it, when both ends are indoors, when the model's figures
/// were measured with the ground that was there (log_distance, site_general), or up to the breakpoint
/// distance
std::optional<LossItem> ground_reflection(const Building& building, const Path& path);

}  // namespace linkmargin
