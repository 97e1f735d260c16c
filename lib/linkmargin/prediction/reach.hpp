#pragma once

#include "linkmargin/site/radio.hpp"

#include <optional>

namespace linkmargin {

/// How far a radio may go at most: infinity within a room, nothing for one that stays.
std::optional<double> reach_m(const std::optional<Mobility>& mobility);

}  // namespace linkmargin
