#pragma once

#include "linkmargin/report/drawing/picture.hpp"

#include <string>
#include <string_view>

// Inside report/ only: the only place that sees the PNG library.
namespace linkmargin {

/// The bytes of a PNG file (ISO/IEC 15948). Neither time nor program is written into it.
/// @throws std::runtime_error when the library fails
std::string png_bytes(const IndexedPicture& picture);
std::string png_bytes(const Picture& picture);

/// Source: RFC 4648, section 4.
std::string base64_text(std::string_view bytes);

}  // namespace linkmargin
