#pragma once

#include <string>

namespace linkmargin::cli {

inline constexpr const char* kStandardOutput = "-";

/// Where a file that is to be written stands, links followed, those to nothing yet too: so that a linked file
/// is written and not the link replaced.
/// @throws Failure where links lead round in a circle
std::string written_place(const std::string& file);

/// Whether what --output names is no file of its own: the standard output, a pipe, a device, one of the
/// process's own streams. @throws Failure as written_place() does
bool goes_to_stream(const std::string& file);

/// The folder of a place: never empty.
std::string folder_of(const std::string& place);

}  // namespace linkmargin::cli
