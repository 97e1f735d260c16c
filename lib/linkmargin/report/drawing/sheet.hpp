#pragma once

#include "linkmargin/report/drawing/svg.hpp"

#include <string>
#include <vector>

// Inside report/ only: the one sheet that plans, maps and pictures stand on.
namespace linkmargin {

inline constexpr const char* kInk = "#22272e";
inline constexpr const char* kFaintInk = "#69727d";

/// By how much outlines may be simplified: less than is seen.
inline constexpr double kOutlineTolerancePx = 0.35;

struct Lettering {
  double font_px = 12;
  const char* colour = kInk;
  bool bold = false;
};

inline constexpr Lettering kTitle{20, kInk, true};
inline constexpr Lettering kLead{13.5, kInk, false};
inline constexpr Lettering kLeadBold{13.5, kInk, true};
inline constexpr Lettering kNote{12, kInk, false};
inline constexpr Lettering kNoteBold{12, kInk, true};
inline constexpr Lettering kSmallPrint{11.5, kFaintInk, false};

/// White paper of a fixed width that is filled from the top. Its height follows from what stands on it.
class Sheet {
 public:
  static constexpr double kMarginPx = 28;
  static constexpr double kLeastWidthPx = 760;

  explicit Sheet(double width_px);

  double width_px() const { return width_px_; }
  double text_width_px() const { return width_px_ - 2 * kMarginPx; }

  /// What is drawn, in the order of drawing.
  svg::Writer& body() { return body_; }

  /// The upper edge of what is still free.
  double y() const { return y_; }
  void skip(double height_px) { y_ += height_px; }
  void go_to(double y) { y_ = y; }

  /// Sets a text in lines from margin to margin. @param indent_px more on the left
  void write(const std::string& text, const Lettering& lettering, double indent_px = 0);

  /// The sheet, cut under what stands on it. @param definitions hatches, which come first
  std::string svg(svg::Writer definitions = svg::Writer());

 private:
  double width_px_;
  double y_;
  svg::Writer body_;
};

/// Begins a picture of that size; who calls it closes it.
void open_svg(svg::Writer& out, const std::string& width_px, const std::string& height_px,
              const char* font_family);

void draw_line(svg::Writer& out, Point2 a, Point2 b, const char* colour, const char* width_px);

/// An outline alone.
void draw_frame(svg::Writer& out, const Box2& box, const char* colour);

/// As the attribute "d" of a path takes it, to a tenth of a pixel.
std::string outline_path(const std::vector<Point2>& points_px, bool closed);

}  // namespace linkmargin
