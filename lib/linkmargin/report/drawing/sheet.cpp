#include "linkmargin/report/drawing/sheet.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr double kTopPx = 22;
constexpr double kFootPx = 20;
constexpr double kLineHeight = 1.3;    // in font sizes
constexpr double kLetterWidth = 0.62;  // the same, on the generous side
constexpr int kLeastColumns = 20;

}  // namespace

Sheet::Sheet(double width_px) : width_px_(std::max(kLeastWidthPx, width_px)), y_(kTopPx) {}

void Sheet::write(const std::string& text, const Lettering& lettering, double indent_px) {
  const double room_px = text_width_px() - indent_px;
  const int columns = std::max(kLeastColumns, static_cast<int>(room_px / (kLetterWidth * lettering.font_px)));
  for (const std::string& line : wrapped(printable(text), columns)) {
    body_.text({kMarginPx + indent_px, y_ + lettering.font_px}, line,
               {{"fill", lettering.colour},
                {"font-size", svg::px(lettering.font_px)},
                {"font-weight", lettering.bold ? "bold" : "normal"}});
    y_ += kLineHeight * lettering.font_px;
  }
}

void open_svg(svg::Writer& out, const std::string& width_px, const std::string& height_px,
              const char* font_family) {
  out.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"version", "1.1"},
                   {"width", width_px},
                   {"height", height_px},
                   {"viewBox", "0 0 " + width_px + " " + height_px},
                   {"font-family", font_family}});
}

std::string Sheet::svg(svg::Writer definitions) {
  const std::string width = svg::px(width_px_), height = svg::px(y_ + kFootPx);
  svg::Writer out;
  open_svg(out, width, height, "sans-serif");
  out.append(definitions);
  out.element("rect", {{"width", width}, {"height", height}, {"fill", "#ffffff"}});
  out.append(body_);
  out.close("svg");
  return out.take();
}

void draw_line(svg::Writer& out, Point2 a, Point2 b, const char* colour, const char* width_px) {
  out.element("line", {{"x1", svg::px(a.x)},
                       {"y1", svg::px(a.y)},
                       {"x2", svg::px(b.x)},
                       {"y2", svg::px(b.y)},
                       {"stroke", colour},
                       {"stroke-width", width_px}});
}

void draw_frame(svg::Writer& out, const Box2& box, const char* colour) {
  out.element("rect", {{"x", svg::px(box.min.x)},
                       {"y", svg::px(box.min.y)},
                       {"width", svg::px(box.max.x - box.min.x)},
                       {"height", svg::px(box.max.y - box.min.y)},
                       {"fill", "none"},
                       {"stroke", colour},
                       {"stroke-width", "1"}});
}

std::string outline_path(const std::vector<Point2>& points_px, bool closed) {
  std::string text = "M";
  for (const Point2 at : points_px) {
    if (text.size() > 1) text += ' ';
    text.append(fixed_text(at.x, 1)).append(1, ',').append(fixed_text(at.y, 1));
  }
  return text + (closed ? "Z" : "");
}

}  // namespace linkmargin
