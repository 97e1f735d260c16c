#include "linkmargin/report/drawing/palette.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr Lab kWeak{34, 22, -46};
constexpr Lab kBend{63, -14, -8};  ///< halfway in lightness, so that lightness is linear
constexpr Lab kStrong{92, 0, 30};

constexpr std::array<double, 3> kWhite{0.95047, 1, 1.08883};
constexpr double kKnee = 6.0 / 29;

double from_lab_scale(double t) {
  return t > kKnee ? t * t * t : 3 * kKnee * kKnee * (t - 4.0 / 29);
}

double to_lab_scale(double t) {
  return t > kKnee * kKnee * kKnee ? std::cbrt(t) : t / (3 * kKnee * kKnee) + 4.0 / 29;
}

double encoded(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

double decoded(std::uint8_t channel) {
  const double share = channel / 255.0;
  return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}

std::uint8_t byte(double share) {
  return static_cast<std::uint8_t>(std::lround(255 * std::clamp(share, 0.0, 1.0)));
}

}  // namespace

std::array<double, 3> srgb_of(const Lab& colour) {
  const double fy = (colour.lightness + 16) / 116;
  const double x = kWhite[0] * from_lab_scale(fy + colour.a / 500);
  const double y = kWhite[1] * from_lab_scale(fy);
  const double z = kWhite[2] * from_lab_scale(fy - colour.b / 200);
  return {encoded(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
          encoded(-0.9692660 * x + 1.8760108 * y + 0.0415560 * z),
          encoded(0.0556434 * x - 0.2040259 * y + 1.0572252 * z)};
}

Lab lab_of(Rgb colour) {
  const double r = decoded(colour.red);
  const double g = decoded(colour.green);
  const double b = decoded(colour.blue);
  const double fx = to_lab_scale((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / kWhite[0]);
  const double fy = to_lab_scale(0.2126729 * r + 0.7151522 * g + 0.0721750 * b);
  const double fz = to_lab_scale((0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / kWhite[2]);
  return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

Rgb map_colour(double share) {
  const double t = std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0;
  const auto along = [t](double from, double bend, double to) {
    return (1 - t) * (1 - t) * from + 2 * t * (1 - t) * bend + t * t * to;
  };
  const auto [red, green, blue] =
      srgb_of({along(kWeak.lightness, kBend.lightness, kStrong.lightness), along(kWeak.a, kBend.a, kStrong.a),
               along(kWeak.b, kBend.b, kStrong.b)});
  return {byte(red), byte(green), byte(blue)};
}

std::vector<Rgb> map_colours(std::size_t count) {
  std::vector<Rgb> colours;
  for (std::size_t i = 0; i < count; ++i) {
    colours.push_back(map_colour(static_cast<double>(i) / static_cast<double>(count - 1)));
  }
  return colours;
}

std::string hex_text(Rgb colour) {
  constexpr const char* digits = "0123456789abcdef";
  std::string text = "#";
  for (const std::uint8_t channel : {colour.red, colour.green, colour.blue}) {
    text += digits[channel >> 4U];
    text += digits[channel & 15U];
  }
  return text;
}

}  // namespace linkmargin
