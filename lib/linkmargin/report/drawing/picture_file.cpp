#include "linkmargin/report/drawing/picture_file.hpp"

#include <cstddef>
#include <cstdint>

namespace linkmargin {
namespace {

unsigned byte_of(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}

/// Of so many bytes, the first the highest.
int whole_at(std::string_view bytes, std::size_t at, std::size_t count) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < count; ++i) value = value << 8U | byte_of(bytes, at + i);
  return value > 1'000'000 ? 0 : static_cast<int>(value);
}

/// The chunk IHDR comes first (ISO/IEC 15948, 11.2.2).
std::optional<PictureFile> png(std::string_view bytes) {
  constexpr std::string_view kSignature = "\x89PNG\r\n\x1a\n";
  if (!bytes.starts_with(kSignature) || bytes.size() < 24 || bytes.substr(12, 4) != "IHDR") return {};
  return PictureFile{"image/png", whole_at(bytes, 16, 4), whole_at(bytes, 20, 4)};
}

/// Segments up to the start of a frame, which has the size (ITU-T T.81, B.2.2).
std::optional<PictureFile> jpeg(std::string_view bytes) {
  if (!bytes.starts_with("\xFF\xD8")) return {};
  for (std::size_t at = 2; at + 9 < bytes.size();) {
    if (byte_of(bytes, at) != 0xFF) return {};
    const unsigned marker = byte_of(bytes, at + 1);
    const bool frame = marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
    if (frame) return PictureFile{"image/jpeg", whole_at(bytes, at + 7, 2), whole_at(bytes, at + 5, 2)};
    const bool fill = marker == 0xFF;
    const bool alone = marker == 0x01 || (marker >= 0xD0 && marker <= 0xD8);
    const auto length = static_cast<std::size_t>(whole_at(bytes, at + 2, 2));
    if (!fill && !alone && length < 2) return {};
    at += fill ? 1 : alone ? 2 : 2 + length;
  }
  return {};
}

}  // namespace

std::optional<PictureFile> picture_file(std::string_view bytes) {
  auto picture = png(bytes);
  if (!picture) picture = jpeg(bytes);
  if (!picture || picture->width_px == 0 || picture->height_px == 0) return {};
  return picture;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto part = [&](std::size_t at) { return at < bytes.size() ? byte_of(bytes, at) : 0U; };
    const unsigned group = part(i) << 16U | part(i + 1) << 8U | part(i + 2);
    text += kDigits[group >> 18U];
    text += kDigits[group >> 12U & 63U];
    text += i + 1 < bytes.size() ? kDigits[group >> 6U & 63U] : '=';
    text += i + 2 < bytes.size() ? kDigits[group & 63U] : '=';
  }
  return text;
}

std::string data_address(std::string_view media_type, std::string_view bytes) {
  return "data:" + std::string(media_type) + ";base64," + base64(bytes);
}

}  // namespace linkmargin
