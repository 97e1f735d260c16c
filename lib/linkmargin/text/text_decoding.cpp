#include "linkmargin/text/text_decoding.hpp"

#include "linkmargin/text/file_limits.hpp"
#include "linkmargin/text/line_counter.hpp"
#include "linkmargin/text/utf16.hpp"

namespace linkmargin {
namespace {

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
    faults.add(mark, DiagnosticCode::syntax, "", "not a text file: the byte " + hex(byte) + place,
               wide ? "it looks like UTF-16; save it as UTF-8" : "");
  } else if (byte < 0x80) {
    faults.add(mark, DiagnosticCode::syntax, "", "a control character, " + hex(byte) + place, "remove it");
  } else {
    faults.add(mark, DiagnosticCode::syntax, "", "not UTF-8 text: the byte " + hex(byte) + place,
               "save the file as UTF-8");
  }
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

}  // namespace

std::optional<std::string> decoded_text(std::string_view bytes, Faults& faults, std::size_t most_bytes) {
  if (bytes.size() > most_bytes) {
    faults.add({1, 1}, DiagnosticCode::too_large, "",
               "the file is larger than " + std::to_string(most_bytes >> 20U) + " MiB");
    return {};
  }
  if (!is_text(bytes, faults)) return {};
  bytes = without_mark(bytes);
  if (bytes.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    faults.add({1, 1}, DiagnosticCode::missing_key, "", "the file is empty");
    return {};
  }
  return with_line_feeds(bytes);
}

std::optional<std::string> decoded_sheet_text(std::string_view bytes, Faults& faults,
                                              std::size_t most_bytes) {
  if (!is_utf16(bytes) || bytes.size() > most_bytes) return decoded_text(bytes, faults, most_bytes);
  const auto text = utf8_of_utf16(bytes, faults);
  return text ? decoded_text(*text, faults, most_bytes) : std::nullopt;
}

}  // namespace linkmargin
