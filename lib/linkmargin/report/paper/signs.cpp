#include "linkmargin/report/paper/signs.hpp"

#include "linkmargin/report/page/plan.hpp"

#include <algorithm>

namespace linkmargin::paper {
namespace {

constexpr Lettering kFigure{9.5, kFaintInk, false};
constexpr const char* kDot = "#4a5191";

constexpr const char* kStyle =
    "<style>.sign .hole{stroke:#ffffff;stroke-width:2.4;fill:none}"
    ".sign{fill:currentColor}.sign.weak{color:#9c3110}.sign.close{color:#765600}"
    ".sign.fine{color:#1c5f63}</style>\n";

}  // namespace

const char* standing_colour(page::Standing standing) {
  return standing == page::Standing::weak    ? "#9c3110"
         : standing == page::Standing::close ? "#765600"
                                             : "#1c5f63";
}

const char* standing_tint(page::Standing standing) {
  return standing == page::Standing::weak    ? "#f9ece6"
         : standing == page::Standing::close ? "#f8f2de"
                                             : "#e6f1f0";
}

std::string definitions(const page::PageModel& content) {
  return kStyle + page::plan_parts(content);
}

void draw_standing(svg::Writer& out, const page::PageModel& content, page::Standing standing, Point2 at,
                   double size_px) {
  svg::Writer sign;
  sign.markup(page::standing_sign(content.wording(), standing));
  draw_moved(out, sign, at, size_px / 20);
}

void add_gauge(Block& block, const page::PageModel& content, const page::Gauge& gauge) {
  svg::Writer& out = block.out();
  const double left = 4, width = block.width_px() - 8, y = block.height_px() + 14;
  const auto x = [&](double percent) { return left + width * std::clamp(percent, 0.0, 100.0) / 100; };
  const auto bar = [&](double from, double to, const char* colour, const char* radius) {
    out.element("rect", {{"x", svg::px(from)},
                         {"y", svg::px(y - 4.5)},
                         {"width", svg::px(to - from)},
                         {"height", "9"},
                         {"rx", radius},
                         {"fill", colour}});
  };
  bar(left, left + width, "#e4ded0", "4.5");
  if (gauge.low && gauge.high) bar(x(*gauge.low), x(*gauge.high), "#a9b6c9", "0");
  const double threshold = content.threshold_percent();
  out.element("line", {{"x1", svg::px(x(threshold))},
                       {"y1", svg::px(y - 11)},
                       {"x2", svg::px(x(threshold))},
                       {"y2", svg::px(y + 11)},
                       {"stroke", kInk},
                       {"stroke-width", "1.8"},
                       {"stroke-dasharray", "4 3"}});
  const auto dot = [&](double percent, const char* fill, const char* rim) {
    out.element("circle", {{"cx", svg::px(x(percent))},
                           {"cy", svg::px(y)},
                           {"r", "6.5"},
                           {"fill", fill},
                           {"stroke", rim},
                           {"stroke-width", "1.8"}});
  };
  if (gauge.before) dot(*gauge.before, "#ffffff", kFaintInk);
  dot(gauge.percent, kDot, "#ffffff");
  if (gauge.read_percent) {
    const double at = x(*gauge.read_percent);
    out.element("polygon", {{"points", svg::points({{at, y - 9}, {at + 7, y}, {at, y + 9}, {at - 7, y}})},
                            {"fill", "none"},
                            {"stroke", kInk},
                            {"stroke-width", "2.2"}});
  }
  const double base = y + 23;
  if (threshold >= 10) draw_text(out, {left, base}, "0", kFigure);
  draw_text(out, {x(threshold), base}, content.threshold_text() + "\u00A0%", kFigure, "middle");
  if (threshold <= 80) draw_text(out, {left + width, base}, "100\u00A0%", kFigure, "end");
  block.skip(44);
}

}  // namespace linkmargin::paper
