#pragma once

#include <string_view>

namespace linkmargin {

/// One word of a closed set and what it stands for.
template <typename Meaning>
struct EnumName {
  std::string_view word;
  Meaning meaning;
};

}  // namespace linkmargin
