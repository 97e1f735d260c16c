#pragma once

#include <cstddef>
#include <string>

// The whole interface between the program and the module `linkmargin_pictures`, which the program loads when
// a picture is asked for that is no SVG.
namespace linkmargin::pictures {

enum class Format { png, pdf };

struct Rendered {
  std::string bytes;
  std::string fault;  ///< why there are none; empty where there are
};

/// A PNG has fewer pixels than its scale asks for rather than more than these: for memory's sake, and as many
/// as a side of a Cairo image may have.
inline constexpr double kMostPixels = 40e6;
inline constexpr double kMostSidePx = 32767;

/// How the module's function is found; a function with other parameters gets another name.
inline constexpr const char* kRenderName = "linkmargin_render_1";
using Render = void(const char* svg, std::size_t size, Format format, double scale, Rendered& result);

}  // namespace linkmargin::pictures

/// An SVG whose root states its size in pixels, as a PNG or as a PDF of one page (96 pixels an inch, as CSS
/// has it, whatever the scale). Nothing outside the text is read but fonts. The same text gives the same
/// bytes with the same libraries and fonts; no time is written into them. Never throws.
/// @param scale  pixels of the PNG to one of the SVG's, > 0
extern "C" [[gnu::visibility("default")]] void linkmargin_render_1(const char* svg, std::size_t size,
                                                                   linkmargin::pictures::Format format,
                                                                   double scale,
                                                                   linkmargin::pictures::Rendered& result);
