#pragma once

#include "linkmargin/link/building/box_index.hpp"

#include <cstdint>

namespace linkmargin {

/// The slabs at one height.
struct SlabLevel {
  double z_m = 0;
  std::uint32_t first = 0;  ///< position in Building::slabs(); they follow each other
  BoxIndex index;           ///< of them, counted from the first
};

}  // namespace linkmargin
