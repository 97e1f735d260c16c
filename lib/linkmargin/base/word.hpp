#pragma once

#include <string_view>

namespace linkmargin {

/// One word of a closed set and what it stands for.
template <typename Meaning>
struct Word {
  std::string_view word;
  Meaning meaning;
};

}  // namespace linkmargin
