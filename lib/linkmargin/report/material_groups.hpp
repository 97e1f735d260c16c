#pragma once

#include <string>
#include <string_view>

// Inside report/ only: what is said of the groups that rows of the table of materials are picked among.
namespace linkmargin {

struct MaterialGroupWords {
  std::string_view group;   ///< of kMaterialGroups
  std::string_view pick;    ///< which row for what
  std::string_view spread;  ///< why one such thing differs from the next
};

/// @return nullptr for a group that is none
const MaterialGroupWords* material_group_words(std::string_view group);

}  // namespace linkmargin
