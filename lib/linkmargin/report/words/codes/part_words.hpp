#pragma once

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/messages/language.hpp"

#include <string>

namespace linkmargin {

/// "hall door", "outer wall of shop", "end of yard wall".
std::string part_text(const Language& language, const PartName& part);

/// The same with the names in it quoted: "outer wall of 'shop'".
std::string quoted_part_text(const Language& language, const PartName& part);

/// "distance, exponent 2.4".
std::string law_text(const Language& language, const DistanceLaw& law);

/// What an item of a loss is of: "outer wall of shop", "edge of hall door", "free space".
std::string item_text(const Language& language, const LossItem& item);

}  // namespace linkmargin
