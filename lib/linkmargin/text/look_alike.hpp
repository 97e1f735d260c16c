#pragma once

#include <string>
#include <string_view>

namespace linkmargin {

/// A key that names share which the eye takes for the same: without blanks, accents and capitals, compatible
/// forms as one (NFKC with case folding, Unicode), and Greek and Cyrillic letters that look like Latin ones
/// as those. It is no name itself.
/// @param name  UTF-8; bytes that are not give the name as it is
std::string look_of(std::string_view name);

}  // namespace linkmargin
