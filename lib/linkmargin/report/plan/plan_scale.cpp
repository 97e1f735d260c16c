#include "linkmargin/report/plan/plan_scale.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linkmargin::plan {
namespace {

constexpr double kLongM = 25;  // over this, figures a metre apart are too many to read
constexpr double kLongStepM = 5;
constexpr double kLongStepFt = 20;
constexpr double kNorthPx = 34;

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

Box2 north_box(const Site& site, std::size_t storey, const Frame& frame) {
  constexpr double rim = 6, sign = 12;
  const Point2 upper_left = frame.at({frame.world.min.x, frame.world.max.y});
  const Point2 lower_right = frame.at({frame.world.max.x, frame.world.min.y});
  const double left = upper_left.x + rim, right = lower_right.x - rim - kNorthPx;
  const double top = upper_left.y + rim, bottom = lower_right.y - rim - kNorthPx;
  const auto box_at = [](Point2 corner) { return Box2{corner, corner + Point2{kNorthPx, kNorthPx}}; };
  const auto is_free = [&](const Box2& box) {
    const Box2 about{box.min - Point2{sign, sign}, box.max + Point2{sign, sign}};
    const auto none = [&](const auto& radios) {
      return std::ranges::none_of(radios, [&](const auto& radio) {
        return radio.place.storey == storey && about.holds(frame.at(radio.place.at));
      });
    };
    return none(site.hubs) && none(site.repeaters) && none(site.devices);
  };
  for (const Point2 corner :
       {Point2{right, top}, Point2{left, top}, Point2{right, bottom}, Point2{left, bottom}}) {
    if (is_free(box_at(corner))) return box_at(corner);
  }
  return box_at({right, top});
}

void draw_north(const Wording& wording, svg::Writer& out, const Box2& box, double north_deg) {
  const Point2 middle = 0.5 * (box.min + box.max);
  const double radius = kNorthPx / 2;
  out.element("circle", {{"cx", svg::px(middle.x)},
                         {"cy", svg::px(middle.y)},
                         {"r", svg::px(radius)},
                         {"fill", "#ffffff"},
                         {"fill-opacity", "0.9"},
                         {"stroke", kFaintInk},
                         {"stroke-width", "0.8"}});
  const double angle = std::numbers::pi * north_deg / 180;
  const Point2 ahead{std::sin(angle), -std::cos(angle)}, aside{-ahead.y, ahead.x};
  const auto at = [&](double along, double across) {
    return middle + radius * (along * ahead + across * aside);
  };
  out.element("polygon",
              {{"points", svg::points({at(0.92, 0), at(0.2, 0.3), at(0.2, -0.3)})}, {"fill", kInk}});
  // The letter keeps upright, on the other side of the middle.
  const Point2 letter = at(-0.28, 0);
  out.text(letter + Point2{0, 4}, wording.say("sign.north"),
           {{"fill", kInk}, {"font-size", "11"}, {"font-weight", "bold"}, {"text-anchor", "middle"}});
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
