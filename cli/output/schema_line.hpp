#pragma once

#include <string>

namespace linkmargin::cli {

/// A site file with the line at its head by which editors check and complete it: the installed JSON Schema,
/// or, where none is installed beside the program, one of that name beside the file. A text that has such a
/// line stays as it is.
std::string with_schema_line(std::string text);

}  // namespace linkmargin::cli
