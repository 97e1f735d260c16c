#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/tree/node.hpp"
#include "linkmargin/yaml/writer/splice.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Not installed.
namespace linkmargin::yaml {

/// Whether a radio's entry says its place in words, or leaves a part of it to its name or profile.
bool is_short_radio(const Node& radio);

/// The splices that write the place of a radio as figures: its profile, storey, `at_m` and `height_m`, the
/// other keys after them as they were.
/// @param section  the map "hubs", "repeaters" or "devices" of a parsed text; @param entry  of it
std::optional<std::vector<Splice>> long_radio(std::string_view text, const Node& section, const Entry& entry,
                                              const std::string& profile, const Placement& place,
                                              const Site& site);

}  // namespace linkmargin::yaml
