#pragma once

#include <string_view>

/// How far a published figure was verified, as tables say it.
namespace linkmargin {

inline constexpr std::string_view kTwoCopies = "two or more independent public copies agree";
inline constexpr std::string_view kOneCopy = "one public secondary copy; agrees with memory";
inline constexpr std::string_view kOneCopyOnly = "one public secondary copy";
inline constexpr std::string_view kFromMemory = "from memory, unverified";

}  // namespace linkmargin
