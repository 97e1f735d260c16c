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

/// The map's own palette, from a rule and not from a table: a quadratic curve in L*a*b* from an indigo as of
/// dusk over a grey sea green to a pale apricot as of lamplight, so that what is lit well is light. Lightness
/// rises by the same amount with every step, and so does b*, from blue to yellow, the two hues that people
/// who do not tell red from green see apart.
/// @param share 0 (weak) to 1 (strong), cut to that
Rgb map_colour(double share);

/// `count` colours from weak to strong in even steps, count >= 2.
std::vector<Rgb> map_colours(std::size_t count);

/// Source: CIE 15:2004, 8.2.1, and IEC 61966-2-1 for sRGB; formulas and matrix from memory.
Lab lab_of(Rgb colour);
std::array<double, 3> srgb_of(const Lab& colour);  ///< 0..1 a channel; outside where sRGB lacks the colour

/// "#a1b2c3"
std::string hex_text(Rgb colour);

}  // namespace linkmargin
