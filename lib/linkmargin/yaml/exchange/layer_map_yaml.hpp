#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/layer_roles.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// Reads a file that says what the layers of a drawing show: under `walls`, `doors`, `windows`, `rooms` and
/// `names` a name of a layer, or a list of them, in which * stands for any letters and ? for one. The first
/// that fits decides, in the order of the file.
/// @return at least one pattern, or every fault of the file
Result<exchange::LayerMap> parse_layer_map(std::string_view text, const std::string& file_name);

}  // namespace linkmargin
