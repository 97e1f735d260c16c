#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// Bytes of a text replaced by others; with no length, an insertion.
struct Splice {
  std::size_t position = 0;
  std::size_t length = 0;
  std::string text;  ///< its lines end in a line feed
};

/// Splices the bytes of a file at positions of its decoded_text(). All other bytes stay, byte-order mark and
/// line ends included; new lines end as the file's first line does.
/// @param splices  apart from each other, in any order; those at one position are put in as they stand here
std::string spliced(std::string_view bytes, std::vector<Splice> splices);

}  // namespace linkmargin::yaml
