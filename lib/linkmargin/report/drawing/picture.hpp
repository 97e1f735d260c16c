#pragma once

#include "linkmargin/report/drawing/palette.hpp"

#include <cstddef>
#include <vector>

// Inside report/ only: pictures of pixels, in rows from the top.
namespace linkmargin {

/// Every pixel is one of at most 256 colours.
struct IndexedPicture {
  std::size_t width = 0;
  std::size_t height = 0;
  std::vector<Rgb> colours;
  std::vector<std::uint8_t> pixels;
};

struct Picture {
  std::size_t width = 0;
  std::size_t height = 0;
  std::vector<Rgb> pixels;
};

}  // namespace linkmargin
