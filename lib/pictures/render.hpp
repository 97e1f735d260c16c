#pragma once

#include <span>
#include <string>
#include <string_view>

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

/// What is to be drawn.
struct Request {
  std::span<const std::string> pages{};  ///< SVGs whose roots state their sizes in pixels; of a PNG one
  Format format = Format::png;
  double scale = 1;          ///< pixels of the PNG to one of the SVG's, > 0
  std::string_view title{};  ///< of the PDF; may be empty
};

/// How the module's function is found; a function with other parameters gets another name.
inline constexpr const char* kRenderName = "linkmargin_render_2";
using Render = void(const Request& request, Rendered& result);

}  // namespace linkmargin::pictures

/// SVGs as a PNG or as a PDF of a page each (96 pixels an inch, as CSS has it, whatever the scale). Nothing
/// outside the texts is read but fonts. The same texts give the same bytes with the same libraries and fonts;
/// no time is written into them. Never throws.
extern "C" [[gnu::visibility("default")]] void linkmargin_render_2(
    const linkmargin::pictures::Request& request, linkmargin::pictures::Rendered& result);
