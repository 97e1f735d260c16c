#include "linkmargin/text/display_text.hpp"

#include <doctest/doctest.h>

#include <clocale>
#include <cwchar>

using namespace linkmargin;

TEST_CASE("widths of characters of one, two and no columns") {
  CHECK(display_width("") == 0);
  CHECK(display_width("hall") == 4);
  CHECK(display_width("T\u00FCr") == 3);
  CHECK(display_width("e\u0301") == 1);                // a combining accent
  CHECK(display_width("\u5009\u5EAB") == 4);           // two ideographs
  CHECK(display_width(std::string("\xFF\xFE")) == 2);  // bytes that are not UTF-8: one replacement each
}

TEST_CASE("what is not well-formed is replaced, what is stays") {
  CHECK(printable("T\u00FCr \U0001F511") == "T\u00FCr \U0001F511");
  CHECK(printable("a\x1b[31mb") == "a\uFFFD[31mb");
  CHECK(printable("a\xC3") == "a\uFFFD");                              // cut short
  CHECK(printable("\xC0\xAF") == "\uFFFD\uFFFD");                      // overlong
  CHECK(printable("\xED\xA0\x80") == "\uFFFD\uFFFD\uFFFD");            // a surrogate
  CHECK(printable("\xF4\x90\x80\x80") == "\uFFFD\uFFFD\uFFFD\uFFFD");  // beyond the last code point
  for (const char* turn :
       {"\u061C", "\u200E", "\u200F", "\u202A", "\u2069", "\u0085", "\uFDD0", "\U0001FFFE"})
    CHECK(printable(turn) == "\uFFFD");
  CHECK(printable("a\n\tb") == "a\uFFFD\uFFFDb");
  CHECK(printable_lines("a\n\tb\u202E") == "a\n\tb\uFFFD");
  CHECK(printable("a\u202Eb") == "a\uFFFDb");  // would turn the text around
}

TEST_CASE("a shortened text never exceeds its width and shows that it was shortened") {
  CHECK(shortened("garage door", 11) == "garage door");
  CHECK(shortened("garage door", 10) == "garage do\u2026");
  CHECK(shortened("garage door", 8) == "garage\u2026");  // no blank before the ellipsis
  CHECK(shortened("\u5009\u5EAB\u5009", 4) == "\u5009\u2026");
  for (int width = 1; width < 14; ++width)
    CHECK(display_width(shortened("T\u00FCr zum Hof", width)) <= width);
}

TEST_CASE("lines break between words, long words are cut, line breaks are kept") {
  CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("abcdefgh ij", 3) == std::vector<std::string>{"abc", "def", "gh", "ij"});
  CHECK(wrapped("one\ntwo", 20) == std::vector<std::string>{"one", "two"});
  CHECK(wrapped("", 20) == std::vector<std::string>{""});
}

TEST_CASE("a figure keeps its unit on its line") {
  CHECK(wrapped("reads 40 % now", 8) == std::vector<std::string>{"reads", "40 % now"});
  CHECK(wrapped("costs 3 dB, more", 9) == std::vector<std::string>{"costs", "3 dB,", "more"});
  CHECK(wrapped("costs 3 doors", 7) == std::vector<std::string>{"costs 3", "doors"});
  CHECK(wrapped("40 % ", 2) == std::vector<std::string>{"40", " %"});  // cut where nothing else helps
}

TEST_CASE("padding counts columns, not bytes") {
  CHECK(padded("\u00FC", 3) == "\u00FC  ");
  CHECK(padded("\u00FC", 3, true) == "  \u00FC");
  CHECK(padded("long", 2) == "long");
}

TEST_CASE("in ASCII what is drawn becomes plain, the width stays") {
  CHECK(plain_ascii("29 \u2588\u2588\u2591 0\u201351 \u2500\u2026") == "29 ##. 0-51 -~");
  CHECK(plain_ascii("T\u00FCr \u5009\u5EAB e\u0301") == "T?r ???? e");
  for (const char* text : {"Tür", "\u5009\u5EAB", "a\u2013b\u2026", "\U0001F692!"})
    CHECK(display_width(plain_ascii(text)) == display_width(text));
}

TEST_CASE("widths are those of the C library, from tables of its own") {
  REQUIRE(std::setlocale(LC_CTYPE, "C.UTF-8") != nullptr);
  int known = 0, other = 0;
  for (char32_t c = 0x20; c < 0x40000; ++c) {
    const int width = ::wcwidth(static_cast<wchar_t>(c));
    if (width < 0) continue;
    ++known;
    other += display_width(c) == width ? 0 : 1;
  }
  std::setlocale(LC_CTYPE, "C");
  CAPTURE(other);
  CHECK(known > 140'000);
  CHECK(other < known / 1000);
}
