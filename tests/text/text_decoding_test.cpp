#include "linkmargin/text/text_decoding.hpp"

#include "linkmargin/text/line_counter.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// The text that comes out, or the faults.
std::string guarded(const std::string& bytes) {
  Faults faults("f");
  const auto text = decoded_text(bytes, faults);
  CHECK(text.has_value() == faults.empty());
  return text ? *text : fault_lines(std::move(faults).sorted());
}

std::string bytes(std::initializer_list<int> values) {
  std::string text;
  for (const int value : values) text += static_cast<char>(value);
  return text;
}

}  // namespace

TEST_CASE("line ends become line feeds and a byte-order mark goes") {
  CHECK(guarded("a\r\nb\rc\nd\r") == "a\nb\nc\nd\n");
  CHECK(guarded("\xEF\xBB\xBFsite: x\n") == "site: x\n");
}

TEST_CASE("nothing at all is said to be empty") {
  CHECK(guarded("") == "f:1:1: the file is empty\n");
  CHECK(guarded(" \t\r\n\n") == "f:1:1: the file is empty\n");
  CHECK(guarded("\xEF\xBB\xBF") == "f:1:1: the file is empty\n");
}

TEST_CASE("binary files are refused with the byte and its place") {
  CHECK(guarded("a: 1\nb: " + bytes({0}) + "\n") ==
        "f:2:4: not a text file: the byte 0x00 at byte offset 8\n");
  CHECK(guarded("caf\xE9: 1\n") ==
        "f:1:4: not UTF-8 text: the byte 0xE9 at byte offset 3 (save the file as UTF-8)\n");
  CHECK(guarded("a: \x1B[31m\n") == "f:1:4: a control character, 0x1B at byte offset 3 (remove it)\n");
  CHECK(guarded("a: \x7F\n") == "f:1:4: a control character, 0x7F at byte offset 3 (remove it)\n");
  CHECK(guarded(bytes({0xFF, 0xFE, 's', 0})) ==
        "f:1:1: not a text file: the byte 0xFF at byte offset 0 (it looks like UTF-16; save it as UTF-8)\n");
}

TEST_CASE("the place of a bad byte is counted behind any line ends and a byte-order mark") {
  CHECK(guarded("\xEF\xBB\xBF"
                "a\rb\r\nc\x1B") == "f:3:2: a control character, 0x1B at byte offset 9 (remove it)\n");
}

TEST_CASE("UTF-8 is taken in its shortest form only, without surrogates, up to U+10FFFF") {
  for (const auto& good :
       {bytes({0xC2, 0x80}), bytes({0xDF, 0xBF}), bytes({0xE0, 0xA0, 0x80}), bytes({0xED, 0x9F, 0xBF}),
        bytes({0xEE, 0x80, 0x80}), bytes({0xF0, 0x90, 0x80, 0x80}), bytes({0xF4, 0x8F, 0xBF, 0xBF})}) {
    CHECK(guarded("a" + good) == "a" + good);
  }
  for (const auto& bad :
       {bytes({0x80}), bytes({0xC0, 0x80}), bytes({0xC1, 0xBF}), bytes({0xE0, 0x9F, 0x80}),
        bytes({0xED, 0xA0, 0x80}), bytes({0xF0, 0x8F, 0x80, 0x80}), bytes({0xF4, 0x90, 0x80, 0x80}),
        bytes({0xF5, 0x80, 0x80, 0x80}), bytes({0xE2, 0x82}), bytes({0xC3, 'x'})}) {
    CHECK(guarded("a" + bad).find("f:1:2: not UTF-8 text: the byte 0x") == 0);
  }
}

TEST_CASE("a file at the limit is read, one byte more is not") {
  std::string text(kMaxFileBytes, '#');
  CHECK(guarded(text) == text);
  CHECK(guarded(text + "#") == "f:1:1: the file is larger than 2 MiB\n");
}

TEST_CASE("columns count characters, and positions may go back") {
  LineCounter lines("\xC3\xA9\xE2\x82\xAC x\ny");
  CHECK(lines.at(0) == Mark{1, 1});
  CHECK(lines.at(2) == Mark{1, 2});
  CHECK(lines.at(5) == Mark{1, 3});
  CHECK(lines.at(8) == Mark{2, 1});
  CHECK(lines.at(6) == Mark{1, 4});
  CHECK(lines.at(1000) == Mark{2, 2});
}
