#include "linkmargin/text/look_alike.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("names that look alike share a look") {
  CHECK(look_of("hall") == "hall");
  for (const char* same : {"Hall", "HALL", "h all", "h\u00A0all", "h\u2003all", "h\u0430ll", "\uFF28all",
                           "h\u00E4ll", "ha\u0308ll", "\u041D\u0430ll", "h\u03B1ll"}) {
    CAPTURE(same);
    CHECK(look_of(same) == "hall");
  }
  CHECK(look_of("Gro\u00DF") == look_of("gross"));
  CHECK(look_of("c\u043Ent\u0430\u0441t") == "contact");
  CHECK(look_of("\u041C\u041E\u0422\u0406\u041E\u041D") == "motioh");  // a Cyrillic capital is drawn like H
  CHECK(look_of("front\u2011door") == look_of("front-door"));
  CHECK(look_of("\u2460") == "1");
}

TEST_CASE("names that look otherwise do not") {
  CHECK(look_of("hall 1") != look_of("hall 2"));
  CHECK(look_of("front-door") != look_of("front door"));
  CHECK(look_of("\u0436") != look_of("x"));
  CHECK(look_of("") == "");
  CHECK(look_of("\xFF") == "\xFF");
}
