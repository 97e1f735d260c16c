#include "linkmargin/report/drawing/palette.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

using namespace linkmargin;

namespace {

constexpr std::size_t kSteps = 64;

double difference(const Lab& left, const Lab& right) {
  return std::hypot(left.lightness - right.lightness, left.a - right.a, left.b - right.b);
}

/// What is left of a colour for an eye without the middle cones, in linear sRGB, cut to its range.
/// Source: Machado, Oliveira and Fernandes (2009), severity 1, matrix for deuteranomaly; from memory.
Rgb without_middle_cones(Rgb colour) {
  const auto linear = [](std::uint8_t channel) {
    const double share = channel / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  const auto byte = [](double value) {
    const double cut = std::clamp(value, 0.0, 1.0);
    const double share = cut <= 0.0031308 ? 12.92 * cut : 1.055 * std::pow(cut, 1 / 2.4) - 0.055;
    return static_cast<std::uint8_t>(std::lround(255 * share));
  };
  const double r = linear(colour.red);
  const double g = linear(colour.green);
  const double b = linear(colour.blue);
  return {byte(0.367322 * r + 0.860646 * g - 0.227968 * b), byte(0.280085 * r + 0.672501 * g + 0.047413 * b),
          byte(-0.011820 * r + 0.042940 * g + 0.968881 * b)};
}

}  // namespace

TEST_CASE("L*a*b* of known colours, and back") {
  CHECK(std::abs(lab_of({255, 255, 255}).lightness - 100) <= 0.01);
  CHECK(std::abs(lab_of({0, 0, 0}).lightness) <= 1e-9);
  const Lab red = lab_of({255, 0, 0});  // 53.24, 80.09, 67.20: widely tabulated, from memory
  CHECK(std::abs(red.lightness - 53.24) <= 0.01);
  CHECK(std::abs(red.a - 80.09) <= 0.02);
  CHECK(std::abs(red.b - 67.20) <= 0.02);
  for (const Rgb colour : {Rgb{12, 200, 77}, Rgb{250, 3, 180}, Rgb{128, 128, 128}}) {
    const auto back = srgb_of(lab_of(colour));
    CHECK(std::lround(255 * back[0]) == colour.red);
    CHECK(std::lround(255 * back[1]) == colour.green);
    CHECK(std::lround(255 * back[2]) == colour.blue);
  }
}

TEST_CASE("lightness and blue to yellow rise evenly along the palette, and every colour exists") {
  const std::vector<Rgb> colours = map_colours(kSteps);
  const double lightness_step = (92.0 - 34.0) / (kSteps - 1);
  for (std::size_t i = 0; i < kSteps; ++i) {
    CAPTURE(i);
    const Lab here = lab_of(colours[i]);
    const double share = static_cast<double>(i) / (kSteps - 1);
    // within a channel's rounding (half of 1/255 is at most 0.25 in L*), so that nothing was cut to sRGB
    CHECK(std::abs(here.lightness - (34 + 58 * share)) <= 0.3);
    CHECK(std::abs(here.b - (-46 + 76 * share)) <= 0.8);
    if (i == 0) continue;
    CHECK(here.lightness - lab_of(colours[i - 1]).lightness > lightness_step / 3);
  }
}

TEST_CASE("steps of a tenth of the scale look equally far apart, and far enough to be told apart") {
  double least = 1e9;
  double most = 0;
  for (int i = 0; i < 10; ++i) {
    const double step = difference(lab_of(map_colour(i / 10.0)), lab_of(map_colour((i + 1) / 10.0)));
    least = std::min(least, step);
    most = std::max(most, step);
  }
  CAPTURE(least);
  CAPTURE(most);
  CHECK(least >= 9);  // a difference of 2.3 is just seen (common practice)
  CHECK(most <= 1.3 * least);
}

TEST_CASE("an eye without the middle cones sees the same order, steps as far apart") {
  Lab before = lab_of(without_middle_cones(map_colour(0)));
  for (int i = 1; i <= 10; ++i) {
    CAPTURE(i);
    const Lab here = lab_of(without_middle_cones(map_colour(i / 10.0)));
    CHECK(here.lightness > before.lightness + 3);
    CHECK(here.b > before.b + 3);
    CHECK(difference(here, before) >= 7);
    before = here;
  }
}

TEST_CASE("shares beyond the ends and no share at all") {
  CHECK(map_colour(-1) == map_colour(0));
  CHECK(map_colour(2) == map_colour(1));
  CHECK(map_colour(std::nan("")) == map_colour(0));
  CHECK(hex_text({1, 171, 255}) == "#01abff");
}
