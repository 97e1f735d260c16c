#include "linkmargin/report/plan/plan_scale.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::plan {
namespace {

constexpr double kLongM = 25;  // over this, figures a metre apart are too many to read
constexpr double kLongStepM = 5;
constexpr double kLongStepFt = 20;

}  // namespace

double round_length_m(double about_m) {
  const double decade = std::pow(10, std::floor(std::log10(about_m)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * decade >= about_m) return factor * decade;
  }
  return 10 * decade;
}

double grid_step_m(double px_per_m, double longest_m, LengthUnit unit) {
  const double unit_m = metres_in(unit);
  const double step_m = unit_m * round_length_m(34 / px_per_m / unit_m);
  const double long_step_m = unit == LengthUnit::foot ? kLongStepFt * unit_m : kLongStepM;
  return longest_m > kLongM ? std::max(long_step_m, step_m) : step_m;
}

void draw_grid(const Wording& wording, svg::Writer& out, const Frame& frame, const Box2& own, double beyond_m,
               double step_m, const Box2& lines_px) {
  beyond_m += 1e-9;
  const LengthUnit unit = wording.language().length_unit();
  const double shown_step = unit == LengthUnit::foot ? std::round(step_m / kMetresAFoot) : step_m;
  const auto line = [&](Point2 a, Point2 b) {
    out.element("line", {{"x1", svg::px(a.x)},
                         {"y1", svg::px(a.y)},
                         {"x2", svg::px(b.x)},
                         {"y2", svg::px(b.y)},
                         {"stroke", "#e3e6ea"},
                         {"stroke-width", "0.8"}});
  };
  const auto figure = [&](Point2 at, double n, const char* align) {
    out.text(at, wording.number(n == 0 ? 0 : n * shown_step),
             {{"fill", kFaintInk}, {"font-size", "9.5"}, {"text-anchor", align}});
  };
  for (double n = std::ceil((own.min.x - beyond_m) / step_m); n * step_m <= own.max.x + beyond_m; ++n) {
    const double x = frame.at({n * step_m, 0}).x;
    line({x, lines_px.min.y}, {x, lines_px.max.y});
    figure({x, lines_px.max.y + 12}, n, "middle");
  }
  for (double n = std::ceil((own.min.y - beyond_m) / step_m); n * step_m <= own.max.y + beyond_m; ++n) {
    const double y = frame.at({0, n * step_m}).y;
    line({lines_px.min.x, y}, {lines_px.max.x, y});
    figure({lines_px.min.x - 5, y + 3.5}, n, "end");
  }
}

void draw_scale_bar(const Wording& wording, svg::Writer& out, Point2 at, double px_per_m) {
  const double unit_m = metres_in(wording.language().length_unit());
  const double length_m = unit_m * round_length_m(100 / px_per_m / unit_m);
  const double part_px = length_m * px_per_m / 4;
  for (int i = 0; i < 4; ++i) {
    out.element("rect", {{"x", svg::px(at.x + i * part_px)},
                         {"y", svg::px(at.y)},
                         {"width", svg::px(part_px)},
                         {"height", "5"},
                         {"fill", i % 2 == 0 ? kInk : "#ffffff"},
                         {"stroke", kInk},
                         {"stroke-width", "1"}});
  }
  const auto figure = [&](double x, const std::string& text) {
    out.text({x, at.y - 4}, text, {{"fill", kInk}, {"font-size", "10"}, {"text-anchor", "middle"}});
  };
  figure(at.x, "0");
  figure(at.x + 4 * part_px, wording.language().length(length_m));
}

}  // namespace linkmargin::plan
