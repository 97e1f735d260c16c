#include "linkmargin/base/length_unit.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

TEST_CASE("A length is read with its unit") {
  const auto is = [](const char* written, double metres) {
    CAPTURE(written);
    const auto found = parse_length_m(written);
    REQUIRE(found);
    CHECK(std::abs(*found - metres) < 1e-12);
  };
  is("2.3m", 2.3);
  is("265 cm", 2.65);
  is("4000mm", 4);
  is("1 m 20 cm", 1.2);
  is("7.5ft", 2.286);
  is("8'", 2.4384);
  is("8\u2032", 2.4384);
  is("7'6\"", 2.286);
  is("7' 6", 2.286);
  is("7 ft 6 in", 2.286);
  is("7' 6 1/2\"", 2.2987);
  is("7'6\u00BD\"", 2.2987);
  is("6in", 0.1524);
  is("6''", 0.1524);
  is("3/4\"", 0.01905);
  is("-1' 6\"", -0.4572);
  is(" 2 Metres ", 2);
}

TEST_CASE("What is no length with a unit gives nothing") {
  for (const char* written : {"", "8", "m", "8 yards", "6' 6'", "6\" 6'", "6' -6\"", "1 m 2", "8.7.1 ft",
                              "two m", "8 m m", "2,65 m", "1/0\"", "1 m 6\"", "6' 20 cm", "1e3 m", "/2\""}) {
    CAPTURE(written);
    CHECK(!parse_length_m(written));
  }
}

TEST_CASE("Feet and inches are said to a part of an inch, and read back as they are said") {
  CHECK(feet_text(2.286, 2) == "7'6\"");
  CHECK(feet_text(2.2987, 2) == "7'6½\"");
  CHECK(feet_text(2.4384, 2) == "8'");
  CHECK(feet_text(0.3048, 1) == "1'");
  CHECK(feet_text(0.1524, 1) == "6\"");
  CHECK(feet_text(0.01905, 8) == "¾\"");
  CHECK(feet_text(0, 8) == "0\"");
  CHECK(feet_text(-0.4572, 1) == "-1'6\"");
  CHECK(feet_text(0.3047, 1) == "1'");  // never 12"
  for (int eighths = 0; eighths < 400; ++eighths) {
    const double length_m = eighths * 0.0254 / 8;
    CAPTURE(eighths);
    const auto again = parse_length_m(feet_text(length_m, 8));
    REQUIRE(again);
    CHECK(std::abs(*again - length_m) < 1e-12);
  }
  CHECK(length_text(0.35, LengthUnit::metre) == "0.35 m");
  CHECK(length_text(0.35, LengthUnit::foot) == "1'1¾\"");
}
