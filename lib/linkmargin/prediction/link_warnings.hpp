#pragma once

#include "linkmargin/prediction/link_table_result.hpp"

#include <vector>

namespace linkmargin {

/// Where a device hangs this near to its hub, its reading tells nothing of the place: common practice.
inline constexpr double kSideBySideM = 0.3;

/// How many walls in a row make a plain sum over them too high: common practice
/// (docs/methods/limits.md).
inline constexpr int kManyWalls = 3;

/// What the reader of one link should know, and nothing that concerns other links alone: of its two radios
/// and their storeys, of what it passes, of the model.
std::vector<Warning> link_warnings(const Site& site, const Link& link);

/// The same for the whole table, each once, those of links with the names of their devices. Hubs that are
/// over their capacity are told by their HubLoad.
std::vector<Warning> table_warnings(const Site& site, const Scene& scene, const LinkTable& table);

}  // namespace linkmargin
