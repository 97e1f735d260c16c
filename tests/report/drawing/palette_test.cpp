#include "linkmargin/report/drawing/palette.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

using namespace linkmargin;

namespace {

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

TEST_CASE("steps begin at each tenth and at the threshold, none too narrow to be seen") {
  CHECK(map_steps(0.4) == std::vector<double>{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9});
  CHECK(map_steps(0.45) == std::vector<double>{0, 0.1, 0.2, 0.3, 0.4, 0.45, 0.5, 0.6, 0.7, 0.8, 0.9});
  CHECK(map_steps(0.31) == std::vector<double>{0, 0.1, 0.2, 0.31, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9});
  CHECK(map_steps(0).size() == 10);
  CHECK(map_steps(1).size() == 10);
  CHECK(map_colour(0.4, 0.4) == map_colour(0.49, 0.4));
  CHECK_FALSE(map_colour(0.39, 0.4) == map_colour(0.4, 0.4));
  CHECK_FALSE(map_colour(0.449, 0.45) == map_colour(0.451, 0.45));
}

TEST_CASE(
    "each step is lighter and yellower than the one before, and the threshold is a break in lightness") {
  for (const double threshold : {0.3, 0.4, 0.45, 0.5, 0.9}) {
    CAPTURE(threshold);
    const std::vector<double> steps = map_steps(threshold);
    for (std::size_t i = 1; i < steps.size(); ++i) {
      CAPTURE(steps[i]);
      const Lab before = lab_of(map_colour(steps[i - 1], threshold)),
                here = lab_of(map_colour(steps[i], threshold));
      const bool breaks = steps[i] == threshold;
      CHECK(here.lightness >= before.lightness + (breaks ? 15 : 2));
      CHECK(here.b > before.b);
      CHECK(difference(here, before) >= 3);  // 2.3 is just seen (common practice)
    }
  }
}

TEST_CASE("with the usual threshold every step is far enough to be told apart, and every colour exists") {
  for (int i = 0; i < 10; ++i) {
    CAPTURE(i);
    const Lab here = lab_of(map_colour(i / 10.0, 0.4));
    if (i > 0) CHECK(difference(here, lab_of(map_colour((i - 1) / 10.0, 0.4))) >= 8);
    // What lies outside sRGB would be cut, and come back as another lightness.
    const double along = i < 4 ? i / 3.0 : (i - 4) / 5.0;
    CHECK(std::abs(here.lightness - (i < 4 ? 28 + 24 * along : 70 + 23 * along)) <= 0.4);
  }
}

TEST_CASE("an eye without the middle cones sees the same order and the same break") {
  Lab before = lab_of(without_middle_cones(map_colour(0, 0.4)));
  for (int i = 1; i < 10; ++i) {
    CAPTURE(i);
    const Lab here = lab_of(without_middle_cones(map_colour(i / 10.0, 0.4)));
    CHECK(here.lightness > before.lightness + (i == 4 ? 12 : 2));
    CHECK(difference(here, before) >= 4);
    before = here;
  }
}

TEST_CASE("shares beyond the ends and no share at all") {
  CHECK(map_colour(-1, 0.4) == map_colour(0, 0.4));
  CHECK(map_colour(2, 0.4) == map_colour(1, 0.4));
  CHECK(map_colour(std::nan(""), 0.4) == map_colour(0, 0.4));
  CHECK(hex_text({1, 171, 255}) == "#01abff");
}
