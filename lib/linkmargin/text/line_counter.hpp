#pragma once

#include "linkmargin/text/mark.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// Bytes without the byte-order mark of UTF-8.
std::string_view without_mark(std::string_view bytes);

/// Each line end of any kind as one line feed.
std::string with_line_feeds(std::string_view bytes);

/// The place behind a text with any line ends.
Mark end_of(std::string_view bytes);

/// Counts lines and columns (in characters) of positions, in one pass over the text where they rise; going
/// back costs kPitch bytes.
class LineCounter {
 public:
  explicit LineCounter(std::string_view text) : text_(text) {}
  Mark at(std::size_t position);

 private:
  static constexpr std::size_t kPitch = 256;

  std::string_view text_;
  std::size_t position_ = 0;
  Mark mark_{1, 1};
  std::vector<Mark> passed_;  // of every kPitch-th position
};

}  // namespace linkmargin
