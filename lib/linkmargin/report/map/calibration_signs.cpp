#include "linkmargin/report/map/calibration_signs.hpp"

#include "linkmargin/report/plan/plan_drawing.hpp"

namespace linkmargin {
namespace {

constexpr double kSignPx = 5;
constexpr const char* kValue = plan::kHub;
constexpr const char* kBound = plan::kArea;
constexpr const char* kOutlier = plan::kDoor;
constexpr const char* kInterval = "#9db2c9";
constexpr const char* kPaper = "#ffffff";

void shape(svg::Writer& out, const Polygon2& corners, const char* colour, const std::string& tooltip) {
  out.element("polygon",
              {{"points", svg::points(corners)}, {"fill", colour}, {"stroke", kPaper}, {"stroke-width", "1"}},
              tooltip);
}

}  // namespace

void draw_equal_line(svg::Writer& out, Point2 a, Point2 b) {
  out.element("polyline", {{"points", svg::points({a, b})},
                           {"fill", "none"},
                           {"stroke", kInk},
                           {"stroke-width", "1.4"},
                           {"stroke-dasharray", "7 4"}});
}

void draw_interval(svg::Writer& out, Point2 low, Point2 high) {
  const Point2 cap{3, 0};
  out.element("path", {{"d", "M" + svg::points({low, high}) + "M" + svg::points({low - cap, low + cap}) +
                                 "M" + svg::points({high - cap, high + cap})},
                       {"fill", "none"},
                       {"stroke", kInterval},
                       {"stroke-width", "1.4"}});
}

void draw_sign(svg::Writer& out, Point2 at, ReadingKind kind, bool outlier, const std::string& tooltip) {
  const double r = kSignPx;
  if (outlier) {
    const double wide = 1.5 * r;
    return shape(out,
                 {at + Point2{0, -wide}, at + Point2{wide, 0}, at + Point2{0, wide}, at + Point2{-wide, 0}},
                 kOutlier, tooltip);
  }
  if (kind == ReadingKind::exact) {
    return out.element("circle",
                       {{"cx", svg::px(at.x)},
                        {"cy", svg::px(at.y)},
                        {"r", svg::px(r)},
                        {"fill", kValue},
                        {"stroke", kPaper},
                        {"stroke-width", "1"}},
                       tooltip);
  }
  const double way = kind == ReadingKind::at_most ? -1 : 1;
  shape(out, {at + Point2{way * 1.5 * r, 0}, at + Point2{-way * r, -1.2 * r}, at + Point2{-way * r, 1.2 * r}},
        kBound, tooltip);
}

}  // namespace linkmargin
