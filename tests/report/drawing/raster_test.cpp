#include "linkmargin/report/drawing/raster.hpp"

#include "linkmargin/report/drawing/png.hpp"
#include "linkmargin/report/drawing/sheet_painter.hpp"
#include "linkmargin/report/drawing/stroke_font.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace linkmargin;

namespace {

constexpr Rgb kPaper{255, 255, 255};
constexpr Ink kBlack{.colour = {0, 0, 0}, .opacity = 1, .hatch = {}};

/// The inked area of a black drawing on white, in pixels.
double inked(const Raster& raster) {
  double sum = 0;
  for (const Rgb pixel : raster.picture().pixels) sum += (255 - pixel.red) / 255.0;
  return sum;
}

Polygon2 disc(Point2 middle, double radius) {
  Polygon2 polygon;
  for (int i = 0; i < 720; ++i) {
    const double turn = i * std::numbers::pi / 360;
    polygon.push_back(middle + radius * Point2{std::cos(turn), std::sin(turn)});
  }
  return polygon;
}

}  // namespace

TEST_CASE("a shape inks its own area, whole or cut by the sheet's edge, either way round") {
  for (const bool turned : {false, true}) {
    Raster raster(40, 30, kPaper);
    Polygon2 triangle{{3.3, 2.1}, {35.7, 8.4}, {12.2, 27.9}};
    if (turned) std::swap(triangle[0], triangle[1]);
    raster.fill({triangle}, kBlack);
    CHECK(std::abs(inked(raster) - std::abs(signed_area(triangle))) <= 0.3);
  }
  Raster cut(40, 30, kPaper);
  cut.fill({{{-10, -10}, {20, -10}, {20, 15}, {-10, 15}}}, kBlack);
  CHECK(inked(cut) == 20 * 15);
  Raster outside(40, 30, kPaper);
  outside.fill({{{50, 50}, {60, 50}, {60, 60}}}, kBlack);
  CHECK(inked(outside) == 0);
}

TEST_CASE("a hole the other way round is left out, overlapping shapes count once") {
  Raster raster(60, 60, kPaper);
  Polygon2 hole = disc({30, 30}, 10);
  std::reverse(hole.begin(), hole.end());
  raster.fill({disc({30, 30}, 20), hole}, kBlack);
  CHECK(std::abs(inked(raster) - std::numbers::pi * (400 - 100)) <= 2);
  Raster twice(60, 60, kPaper);
  twice.fill({disc({30, 30}, 20), disc({30, 30}, 20)}, {.colour = {0, 0, 0}, .opacity = 0.5, .hatch = {}});
  // but for the pixels of the edge, where two halves make a whole
  CHECK(std::abs(inked(twice) - std::numbers::pi * 200) <= 0.5 * 0.25 * 2 * std::numbers::pi * 20);
}

TEST_CASE("lines have their width, dashes their share") {
  Raster raster(120, 20, kPaper);
  raster.stroke({{10, 10.3}, {110, 10.3}}, false, 3, kBlack);
  CHECK(std::abs(inked(raster) - 300) <= 0.5);
  Raster dashed(120, 20, kPaper);
  dashed.stroke_dashed({{10, 10.3}, {110, 10.3}}, false, 3, {6, 4}, kBlack);
  CHECK(std::abs(inked(dashed) - 180) <= 0.5);
}

TEST_CASE("a hatch inks the share of its lines") {
  for (const double angle : {0.0, 45.0, -45.0, 20.0}) {
    CAPTURE(angle);
    Raster raster(200, 200, kPaper);
    raster.fill({{{0, 0}, {200, 0}, {200, 200}, {0, 200}}},
                {.colour = {0, 0, 0}, .opacity = 1, .hatch = Hatch{10, 3, angle, {}}});
    CHECK(std::abs(inked(raster) / 40000 - 0.3) <= 0.02);
  }
}

TEST_CASE("every printable letter has strokes of its own, and no text is wider than planned for") {
  const auto box = text_strokes_em("\u4E2D");
  for (char letter = '!'; letter <= '~'; ++letter) {
    CAPTURE(letter);
    const std::string text(1, letter);
    CHECK(!text_strokes_em(text).empty());
    CHECK(stroked_width_em(text) <= svg::text_width_em(text) * 1.001);
    if (std::string("$@\\^`{}~").find(letter) == std::string::npos) CHECK(text_strokes_em(text) != box);
  }
  CHECK(text_strokes_em("\u00E9") == text_strokes_em("e"));
  CHECK(text_strokes_em("").empty());
}

TEST_CASE("what a painter does not know it refuses") {
  svg::Writer sheet;
  sheet.open("svg", {{"width", "20"}, {"height", "10"}});
  sheet.element("rect", {{"x", "5"}, {"y", "0"}, {"width", "10"}, {"height", "10"}, {"fill", "#000000"}});
  sheet.close("svg");
  const Picture picture = painted(sheet, 2);
  CHECK(picture.width == 40);
  CHECK(picture.height == 20);
  CHECK(picture.pixels[9] == kPaper);
  CHECK(picture.pixels[10] == Rgb{0, 0, 0});
  svg::Writer other;
  other.open("svg", {{"width", "20"}, {"height", "10"}});
  other.element("ellipse", {{"fill", "#000000"}});
  CHECK_THROWS_AS(painted(other, 1), DomainError);
  svg::Writer named;
  named.open("svg", {{"width", "20"}, {"height", "10"}});
  named.element("rect", {{"width", "1"}, {"height", "1"}, {"fill", "red"}});
  CHECK_THROWS_AS(painted(named, 1), DomainError);
}

TEST_CASE("a picture is twice as fine as its sheet, unless that were too large") {
  svg::Writer small;
  small.open("svg", {{"width", "1000"}, {"height", "1000"}});
  CHECK(picture_scale(small) == 2);
  svg::Writer large;
  large.open("svg", {{"width", "8000"}, {"height", "20000"}});
  CHECK(std::abs(picture_scale(large) - 0.5) <= 1e-12);
}

TEST_CASE("PNG and base64") {
  CHECK(base64_text("") == "");
  CHECK(base64_text("f") == "Zg==");  // RFC 4648, section 10
  CHECK(base64_text("fo") == "Zm8=");
  CHECK(base64_text("foo") == "Zm9v");
  CHECK(base64_text("foobar") == "Zm9vYmFy");
  IndexedPicture picture{2, 2, {{1, 2, 3}, {200, 100, 50}}, {0, 1, 1, 0}};
  const std::string bytes = png_bytes(picture);
  CHECK(bytes.starts_with("\x89PNG\r\n\x1a\n"));
  CHECK(bytes.find("PLTE") != std::string::npos);
  CHECK(bytes == png_bytes(picture));
  CHECK(bytes.find("tIME") == std::string::npos);
}
