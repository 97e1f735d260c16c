#include "linkmargin/report/paper/block.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/drawing/text_lines.hpp"

namespace linkmargin::paper {

void draw_text(svg::Writer& out, Point2 at, const std::string& line, const Lettering& lettering,
               const char* align) {
  out.text(at, line,
           {{"fill", lettering.colour},
            {"font-size", svg::px(lettering.font_px)},
            {"font-weight", lettering.bold ? "bold" : "normal"},
            {"text-anchor", align}});
}

void draw_moved(svg::Writer& out, const svg::Writer& drawn, Point2 by, double scale) {
  std::string transform = "translate(" + svg::px(by.x) + " " + svg::px(by.y) + ")";
  if (scale != 1) transform += " scale(" + fixed_text(scale, 4) + ")";
  out.open("g", {{"transform", transform}});
  out.append(drawn);
  out.close("g");
}

void Block::write(const std::string& text, const Lettering& lettering, double indent_px,
                  const std::string& mark) {
  if (text.empty()) return;
  if (!mark.empty()) draw_text(out_, {0, height_px_ + lettering.font_px}, mark, lettering);
  for (const std::string& line : lines_within(text, lettering, width_px_ - indent_px)) {
    draw_text(out_, {indent_px, height_px_ + lettering.font_px}, line, lettering);
    height_px_ += kLineHeight * lettering.font_px;
  }
}

void Block::put(const Block& other, Point2 at) {
  draw_moved(out_, other.drawn(), at);
  reach(at.y + other.height_px());
}

}  // namespace linkmargin::paper
