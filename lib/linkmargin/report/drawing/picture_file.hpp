#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// A picture as a file has it.
struct PictureFile {
  std::string_view media_type;  ///< "image/png" or "image/jpeg"
  int width_px = 0;
  int height_px = 0;
};

/// No picture that is put under a plan is larger, in bytes and in pixels.
inline constexpr std::size_t kMostPictureBytes = std::size_t{16} << 20U;
inline constexpr double kMostPicturePixels = 100e6;

/// Kind and size of a PNG or JPEG by its first parts; nothing where it is neither, or has no size.
std::optional<PictureFile> picture_file(std::string_view bytes);

/// As RFC 4648, section 4, has it, filled up to whole groups of four.
std::string base64(std::string_view bytes);

/// A file within an address, as RFC 2397 has it: "data:image/png;base64,...".
std::string data_address(std::string_view media_type, std::string_view bytes);

}  // namespace linkmargin
