#include "linkmargin/report/drawing/png.hpp"

#include <png.h>
#include <stdexcept>

namespace linkmargin {
namespace {

static_assert(sizeof(Rgb) == 3, "rows of Rgb are handed over as bytes");

std::string written(png_uint_32 format, std::size_t width, std::size_t height, const void* pixels,
                    const std::vector<Rgb>* colours) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(width);
  image.height = static_cast<png_uint_32>(height);
  image.format = format;
  image.colormap_entries = colours == nullptr ? 0 : static_cast<png_uint_32>(colours->size());
  std::string bytes(PNG_IMAGE_PNG_SIZE_MAX(image), '\0');
  png_alloc_size_t size = bytes.size();
  const int done = png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels, 0,
                                             colours == nullptr ? nullptr : colours->data());
  if (done == 0) throw std::runtime_error(std::string("PNG: ") + image.message);
  bytes.resize(size);
  bytes.shrink_to_fit();
  return bytes;
}

}  // namespace

std::string png_bytes(const IndexedPicture& picture) {
  return written(PNG_FORMAT_RGB_COLORMAP, picture.width, picture.height, picture.pixels.data(),
                 &picture.colours);
}

std::string png_bytes(const Picture& picture) {
  return written(PNG_FORMAT_RGB, picture.width, picture.height, picture.pixels.data(), nullptr);
}

std::string base64_text(std::string_view bytes) {
  constexpr const char* signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - at);
    unsigned bits = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      bits = bits << 8U | (i < count ? static_cast<unsigned char>(bytes[at + i]) : 0U);
    }
    for (std::size_t i = 0; i < 4; ++i) text += i <= count ? signs[bits >> (18 - 6 * i) & 63U] : '=';
  }
  return text;
}

}  // namespace linkmargin
