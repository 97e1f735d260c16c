#pragma once

#include <string>

namespace linkmargin {

/// A text as it is typed on a command line: as it is where a shell takes it for one word, else between single
/// quotation marks.
std::string shell_word(const std::string& text);

}  // namespace linkmargin
