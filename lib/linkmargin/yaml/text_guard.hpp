#pragma once

#include "linkmargin/yaml/faults.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// The text of a file as the parser may see it: without a byte-order mark, every line end a single line feed.
/// Nothing, and a fault, when the bytes are too many, empty, not UTF-8, or hold control characters.
std::optional<std::string> guarded_text(std::string_view bytes, Faults& faults);

/// The same of a file that a spreadsheet may have written in UTF-16 with a byte-order mark.
std::optional<std::string> guarded_sheet_text(std::string_view bytes, Faults& faults);

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

}  // namespace linkmargin::yaml
