#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// The text of a first site file from one line: "hall 2x5, shop 6x5 left of hall, kitchen 4x3.2 above hall".
/// Each room has a name, its width and depth in metres with an x between, and but for the first its
/// neighbour.
/// @return the file, which reads as a site; or a fault a room that cannot be read; or what is wrong with the
/// rooms together, as parse_site() says it
Result<std::string> first_site(std::string_view rooms, const Tables& tables);

}  // namespace linkmargin
