#pragma once

#include "linkmargin/base/enum_name.hpp"
#include "linkmargin/site/building.hpp"

#include <string_view>

namespace linkmargin {

/// As people write them, in the order in which they are listed.
inline constexpr EnumName<SheetSide> kSideWords[] = {{"left", SheetSide::left},
                                                     {"right", SheetSide::right},
                                                     {"bottom", SheetSide::bottom},
                                                     {"top", SheetSide::top}};

constexpr std::string_view side_word(SheetSide side) {
  for (const auto& word : kSideWords) {
    if (word.meaning == side) return word.word;
  }
  return "";
}

/// Whether a wall on that side runs along y.
constexpr bool is_upright(SheetSide side) {
  return side == SheetSide::left || side == SheetSide::right;
}

}  // namespace linkmargin
