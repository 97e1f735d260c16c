#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

// Inside report/ only: the colours of a map.
namespace linkmargin {

/// sRGB.
struct Rgb {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;
  friend bool operator==(const Rgb&, const Rgb&) = default;
};

/// CIE 1976 L*a*b* under D65.
struct Lab {
  double lightness = 0;
  double a = 0;
  double b = 0;
};

/// The map's own palette, from a rule and not from a table: steps of a tenth of the scale in two families
/// with a break at the threshold between them, so that what is weak is told from what is not by lightness
/// alone, in grey and by eyes that do not tell red from green too. Below it from a dark indigo to a blue,
/// above it from a pale sea green to apricot, each family even in L*a*b*. Lightness and b*, from blue to
/// yellow, rise with each step.
/// @param share      0 (weak) to 1 (strong), cut to that
/// @param threshold  of the same scale, 0 to 1
Rgb map_colour(double share, double threshold);

/// Where the steps begin, rising from 0: at each tenth and at the threshold. A tenth so near to the threshold
/// that no step would be seen between them is left out.
std::vector<double> map_steps(double threshold);

/// Source: CIE 15:2004, 8.2.1, and IEC 61966-2-1 for sRGB; formulas and matrix from memory.
Lab lab_of(Rgb colour);
std::array<double, 3> srgb_of(const Lab& colour);  ///< 0..1 a channel; outside where sRGB lacks the colour

/// "#a1b2c3"
std::string hex_text(Rgb colour);

}  // namespace linkmargin
