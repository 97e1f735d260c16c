#pragma once

#include <string>
#include <string_view>

/// Not installed.
namespace linkmargin::exchange::dxf {

struct DecodedText {
  std::string text;   ///< UTF-8
  bool whole = true;  ///< false: it has letters of a code page that is not read; they stand as '?'
};

/// A text of a DXF file as people read it: its codes for letters (%%d, \U+00E4) and, of several lines, for
/// fonts, heights and breaks taken out. Bytes that are no UTF-8 are read by windows-1252.
/// @param other_code_page  the file says that its text is in another code page
DecodedText decoded(std::string_view value, bool several_lines, bool other_code_page);

}  // namespace linkmargin::exchange::dxf
