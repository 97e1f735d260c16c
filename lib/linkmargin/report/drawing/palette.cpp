#include "linkmargin/report/drawing/palette.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr Lab kWeakest{28, 22, -44};
constexpr Lab kLastWeak{52, 2, -38};
constexpr Lab kFirstStrong{70, -14, -4};
constexpr Lab kStrongest{93, 0, 32};

constexpr int kTenths = 10;
constexpr double kNoStep = 0.02;  ///< a narrower step is none

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

std::vector<double> map_steps(double threshold) {
  std::vector<double> steps{0};
  const bool breaks = threshold >= kNoStep && threshold <= 1 - kNoStep;
  for (int i = 1; i < kTenths; ++i) {
    const double tenth = static_cast<double>(i) / kTenths;
    if (!breaks || std::abs(tenth - threshold) >= kNoStep) steps.push_back(tenth);
  }
  if (breaks) steps.insert(std::ranges::upper_bound(steps, threshold), threshold);
  return steps;
}

Rgb map_colour(double share, double threshold) {
  const double t = std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0;
  const std::vector<double> steps = map_steps(threshold);
  const auto step = std::ranges::upper_bound(steps, t) - steps.begin() - 1;
  const auto weak = std::ranges::lower_bound(steps, threshold) - steps.begin();  // steps under the threshold
  const bool is_weak = step < weak;
  const auto count = is_weak ? weak : std::ssize(steps) - weak;
  const auto index = is_weak ? step : step - weak;
  const Lab& from = is_weak ? kWeakest : kFirstStrong;
  const Lab& to = is_weak ? kLastWeak : kStrongest;
  const double along = count > 1 ? static_cast<double>(index) / static_cast<double>(count - 1) : 1;
  const auto between = [along](double low, double high) { return low + along * (high - low); };
  const auto [red, green, blue] =
      srgb_of({between(from.lightness, to.lightness), between(from.a, to.a), between(from.b, to.b)});
  return {byte(red), byte(green), byte(blue)};
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
