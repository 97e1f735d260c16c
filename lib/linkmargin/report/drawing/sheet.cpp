#include "linkmargin/report/drawing/sheet.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin {

svg::Writer sheet(svg::Writer definitions, svg::Writer body, Point2 size_px) {
  const std::string width = svg::px(size_px.x), height = svg::px(size_px.y);
  const std::string view = "0 0 " + width + " " + height;
  constexpr const char* svg_space = "http://www.w3.org/2000/svg";
  constexpr const char* font = "DejaVu Sans, Verdana, Helvetica, Arial, sans-serif";
  const bool pictures = std::ranges::any_of(
      body.elements(), [](const svg::Element& element) { return element.picture != nullptr; });
  svg::Writer out;
  if (pictures) {
    out.open("svg", {{"xmlns", svg_space},
                     {"xmlns:xlink", "http://www.w3.org/1999/xlink"},
                     {"version", "1.1"},
                     {"width", width},
                     {"height", height},
                     {"viewBox", view},
                     {"font-family", font}});
  } else {
    out.open("svg", {{"xmlns", svg_space},
                     {"version", "1.1"},
                     {"width", width},
                     {"height", height},
                     {"viewBox", view},
                     {"font-family", font}});
  }
  out.append(std::move(definitions));
  out.element("rect", {{"width", width}, {"height", height}, {"fill", "#ffffff"}});
  out.append(std::move(body));
  out.close("svg");
  return out;
}

double draw_lines(svg::Writer& out, Point2 at, double width_px, const std::string& text, double font_px,
                  const char* colour, bool bold) {
  const int columns = std::max(20, static_cast<int>(width_px / (0.62 * font_px)));
  for (const std::string& line : wrapped(printable(text), columns)) {
    out.text(at, line,
             {{"fill", colour}, {"font-size", svg::px(font_px)}, {"font-weight", bold ? "bold" : "normal"}});
    at.y += 1.3 * font_px;
  }
  return at.y;
}

void draw_line(svg::Writer& out, Point2 a, Point2 b, const char* colour, const char* width_px) {
  out.element("line", {{"x1", svg::px(a.x)},
                       {"y1", svg::px(a.y)},
                       {"x2", svg::px(b.x)},
                       {"y2", svg::px(b.y)},
                       {"stroke", colour},
                       {"stroke-width", width_px}});
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
