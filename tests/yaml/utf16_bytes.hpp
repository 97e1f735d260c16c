#pragma once

#include <string>
#include <string_view>

/// A text in UTF-16 with a byte-order mark, the higher byte of each unit first or last.
inline std::string utf16_bytes(std::u16string_view text, bool big_endian) {
  std::string bytes;
  const auto add = [&](char16_t unit) {
    const char low = static_cast<char>(unit & 0xFFU), high = static_cast<char>(unit >> 8U);
    bytes += big_endian ? high : low;
    bytes += big_endian ? low : high;
  };
  add(0xFEFF);
  for (const char16_t unit : text) add(unit);
  return bytes;
}
