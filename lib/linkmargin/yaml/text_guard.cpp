#include "linkmargin/yaml/text_guard.hpp"

#include "linkmargin/yaml/file_limits.hpp"
#include "linkmargin/yaml/utf16.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

unsigned byte_at(std::string_view bytes, std::size_t i) {
  return static_cast<unsigned char>(bytes[i]);
}

/// Length of the UTF-8 sequence at i, or 0 when it is none: overlong forms, surrogates and values over
/// U+10FFFF included (Unicode 15, table 3-7).
std::size_t sequence_length(std::string_view bytes, std::size_t i) {
  const unsigned lead = byte_at(bytes, i);
  const std::size_t length = lead < 0x80   ? 1U
                             : lead < 0xC2 ? 0U
                             : lead < 0xE0 ? 2U
                             : lead < 0xF0 ? 3U
                             : lead < 0xF5 ? 4U
                                           : 0U;
  if (length == 0 || i + length > bytes.size()) return 0;
  for (std::size_t k = 1; k < length; ++k) {
    const unsigned next = byte_at(bytes, i + k);
    if ((next & 0xC0U) != 0x80U) return 0;
    const bool bad_second = k == 1 && ((lead == 0xE0 && next < 0xA0) || (lead == 0xED && next > 0x9F) ||
                                       (lead == 0xF0 && next < 0x90) || (lead == 0xF4 && next > 0x8F));
    if (bad_second) return 0;
  }
  return length;
}

std::string hex(unsigned byte) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  return {'0', 'x', digits[byte >> 4U], digits[byte & 0xFU]};
}

void refuse_byte(std::string_view bytes, std::size_t i, Faults& faults) {
  const unsigned byte = byte_at(bytes, i);
  const Mark mark = end_of(bytes.substr(0, i));
  const std::string place = " at byte offset " + std::to_string(i);
  const bool wide =
      is_utf16(bytes) || (byte == 0 && i < 2);  // one letter before the first zero byte, or none
  if (wide || byte == 0) {
    faults.add(mark, "", "not a text file: the byte " + hex(byte) + place,
               wide ? "it looks like UTF-16; save it as UTF-8" : "");
  } else if (byte < 0x80) {
    faults.add(mark, "", "a control character, " + hex(byte) + place, "remove it");
  } else {
    faults.add(mark, "", "not UTF-8 text: the byte " + hex(byte) + place, "save the file as UTF-8");
  }
}

std::string_view without_mark(std::string_view bytes) {
  if (bytes.starts_with(kByteOrderMark)) bytes.remove_prefix(kByteOrderMark.size());
  return bytes;
}

bool is_text(std::string_view bytes, Faults& faults) {
  for (std::size_t i = 0; i < bytes.size();) {
    const unsigned byte = byte_at(bytes, i);
    const bool control = (byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r') || byte == 0x7F;
    const std::size_t length = control ? 0 : sequence_length(bytes, i);
    if (length == 0) {
      refuse_byte(bytes, i, faults);
      return false;
    }
    i += length;
  }
  return true;
}

std::string with_line_feeds(std::string_view bytes) {
  std::string text;
  text.reserve(bytes.size());
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (bytes[i] != '\r') {
      text += bytes[i];
    } else {
      text += '\n';
      if (i + 1 < bytes.size() && bytes[i + 1] == '\n') ++i;
    }
  }
  return text;
}

}  // namespace

std::optional<std::string> guarded_text(std::string_view bytes, Faults& faults) {
  if (bytes.size() > kMaxFileBytes) {
    faults.add({1, 1}, "", "the file is larger than " + std::to_string(kMaxFileBytes >> 20U) + " MiB");
    return {};
  }
  if (!is_text(bytes, faults)) return {};
  bytes = without_mark(bytes);
  if (bytes.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    faults.add({1, 1}, "", "the file is empty");
    return {};
  }
  return with_line_feeds(bytes);
}

std::optional<std::string> guarded_sheet_text(std::string_view bytes, Faults& faults) {
  if (!is_utf16(bytes) || bytes.size() > kMaxFileBytes) return guarded_text(bytes, faults);
  const auto text = utf8_of_utf16(bytes, faults);
  return text ? guarded_text(*text, faults) : std::nullopt;
}

Mark end_of(std::string_view bytes) {
  const std::string text = with_line_feeds(without_mark(bytes));
  return LineCounter(text).at(text.size());
}

Mark LineCounter::at(std::size_t position) {
  position = std::min(position, text_.size());
  if (position < position_) {
    position_ = position / kPitch * kPitch;
    mark_ = passed_[position / kPitch];
  }
  for (; position_ < position; ++position_) {
    if (position_ == passed_.size() * kPitch) passed_.push_back(mark_);
    if (text_[position_] == '\n') {
      ++mark_.line;
      mark_.column = 1;
    } else if ((byte_at(text_, position_) & 0xC0U) != 0x80U) {
      ++mark_.column;
    }
  }
  return mark_;
}

}  // namespace linkmargin::yaml
