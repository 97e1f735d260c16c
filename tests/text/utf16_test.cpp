#include "linkmargin/text/utf16.hpp"

#include "linkmargin/text/text_decoding.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/utf16_bytes.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// The text that comes out, or the faults.
std::string guarded_sheet(const std::string& bytes) {
  Faults faults("f");
  const auto text = decoded_sheet_text(bytes, faults);
  CHECK(text.has_value() == faults.empty());
  return text ? *text : fault_lines(std::move(faults).sorted());
}

}  // namespace

TEST_CASE("UTF-16 of either order becomes UTF-8, to the ends of each length") {
  for (const bool big : {false, true}) {
    CHECK(guarded_sheet(utf16_bytes(u"a\r\nb\rc", big)) == "a\nb\nc");
    CHECK(guarded_sheet(utf16_bytes(u"~\u0080\u07FF\u0800\uD7FF\uE000\uFFFD", big)) ==
          "~\xC2\x80\xDF\xBF\xE0\xA0\x80\xED\x9F\xBF\xEE\x80\x80\xEF\xBF\xBD");
    CHECK(guarded_sheet(utf16_bytes(u"\U00010000\U0010FFFF", big)) == "\xF0\x90\x80\x80\xF4\x8F\xBF\xBF");
    CHECK(guarded_sheet(utf16_bytes(u"", big)) == "f:1:1: the file is empty\n");
  }
}

TEST_CASE("UTF-16 that breaks off or has half a pair is told with its place") {
  const std::string rest = " (save the file as UTF-8)\n";
  const auto with = [](char16_t first, char16_t second) {
    return utf16_bytes(std::u16string{u'a', u'\r', u'b', first, second}, false);
  };
  CHECK(guarded_sheet(with(0xD800, u'x')) == "f:2:2: not UTF-16 text at byte offset 8" + rest);
  CHECK(guarded_sheet(with(u'x', 0xD800)) == "f:2:3: not UTF-16 text at byte offset 10" + rest);
  CHECK(guarded_sheet(with(0xDC00, 0xD800)) == "f:2:2: not UTF-16 text at byte offset 8" + rest);
  CHECK(guarded_sheet(with(u'x', u'y') + "z") == "f:2:4: not UTF-16 text at byte offset 12" + rest);
}

TEST_CASE("UTF-16 without a byte-order mark, and zero bytes") {
  const std::string hint = " (it looks like UTF-16; save it as UTF-8)\n";
  CHECK(guarded_sheet(utf16_bytes(u"ab", false).substr(2)) ==
        "f:1:2: not a text file: the byte 0x00 at byte offset 1" + hint);
  CHECK(guarded_sheet(utf16_bytes(u"ab", true).substr(2)) ==
        "f:1:1: not a text file: the byte 0x00 at byte offset 0" + hint);
  CHECK(guarded_sheet(utf16_bytes(std::u16string{u'a', u'\0'}, false)) ==
        "f:1:2: not a text file: the byte 0x00 at byte offset 1" + hint);
}

TEST_CASE("the limit of a file holds for its bytes and for its text") {
  const std::u16string half(kMaxFileBytes / 2, u'#');
  CHECK(guarded_sheet(utf16_bytes(half, false)) == "f:1:1: the file is larger than 2 MiB\n");
  CHECK(guarded_sheet(utf16_bytes(half.substr(1), false)) == std::string(kMaxFileBytes / 2 - 1, '#'));
  CHECK(guarded_sheet(utf16_bytes(std::u16string(kMaxFileBytes / 2 - 1, u'\u20AC'), false)) ==
        "f:1:1: the file is larger than 2 MiB\n");
}
