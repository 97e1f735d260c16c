#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace linkmargin {

/// The known name nearest to what was written, letter case ignored, or nothing when none is near enough
/// (more than a third of the letters changed, or over four). Adjacent letters swapped count as one change.
/// Ties go to the name that stands first.
std::optional<std::string> nearest_name(std::string_view written, std::span<const std::string> known);

/// "did you mean 'X'?"; where none is near the names that have all the words written, or all of whose words
/// are written, up to three: "shed door" for "shed back door". Else an empty text.
std::string nearest_hint(std::string_view written, std::span<const std::string> known);

}  // namespace linkmargin
