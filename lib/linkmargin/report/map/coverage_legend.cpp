#include "linkmargin/report/map/coverage_legend.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/map/coverage_picture.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/drawing/sheet.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kGoodChancePercent = 90;
constexpr const char* kPale = "#ffffff";

void ramp(svg::Writer& out, const Box2& bar) {
  out.image(bar, palette_ramp());
  out.element("rect", {{"x", svg::px(bar.min.x)},
                       {"y", svg::px(bar.min.y)},
                       {"width", svg::px(kBarWidthPx)},
                       {"height", svg::px(kBarPx)},
                       {"fill", "none"},
                       {"stroke", plan::kInk},
                       {"stroke-width", "1"}});
}

void figures(svg::Writer& out, const Box2& bar, const ValueScale& scale) {
  const double span = std::abs(scale.strong - scale.weak);
  const double step = plan::round_length_m(span / 10 - 1e-9);
  const double least = std::min(scale.weak, scale.strong);
  for (double n = std::ceil(least / step - 1e-9); n * step <= least + span + 1e-9; ++n) {
    const double x = bar.min.x + kBarWidthPx * scale.share(n * step);
    draw_palette_figure(out, {x, bar.max.y}, shortest_text(n == 0 ? 0 : n * step));
  }
}

/// Across the bar, at a share of it.
void mark(svg::Writer& out, const Box2& bar, double share) {
  const double x = bar.min.x + kBarWidthPx * share;
  for (const auto& [colour, width_px] : {std::pair{kPale, "4.6"}, std::pair{plan::kInk, "2"}}) {
    draw_line(out, {x, bar.min.y - 3}, {x, bar.max.y + 3}, colour, width_px);
  }
}

void zone_sign(svg::Writer& out, Point2 at, const std::string& threshold) {
  const std::vector<Point2> box{at, at + Point2{44, 0}, at + Point2{44, kBarPx}, at + Point2{0, kBarPx}};
  out.element("polygon", {{"points", svg::points(box)}, {"fill", hex_text(map_colour(0.2))}});
  out.element("polygon", {{"points", svg::points(box)}, {"fill", "url(#weak)"}});
  draw_threshold_line(out, "M" + svg::points(box) + "Z");
  out.text({at.x + 54, at.y + 12}, "weak: reading under " + threshold,
           {{"fill", plan::kInk}, {"font-size", "12"}});
}

}  // namespace

std::shared_ptr<const IndexedPicture> palette_ramp() {
  auto picture = std::make_shared<IndexedPicture>();
  picture->width = kMapColours;
  picture->height = 1;
  picture->colours = map_colours(kMapColours);
  for (std::size_t i = 0; i < kMapColours; ++i) picture->pixels.push_back(static_cast<std::uint8_t>(i));
  return picture;
}

void draw_palette_figure(svg::Writer& out, Point2 at, const std::string& figure) {
  draw_line(out, at, at + Point2{0, 4}, plan::kInk, "1");
  out.text(at + Point2{0, 16}, figure,
           {{"fill", plan::kInk}, {"font-size", "12"}, {"text-anchor", "middle"}});
}

void draw_weak_hatch(svg::Writer& out) {
  out.open("defs");
  out.open("pattern", {{"id", "weak"},
                       {"width", "11"},
                       {"height", "11"},
                       {"patternUnits", "userSpaceOnUse"},
                       {"patternTransform", "rotate(45)"}});
  out.element("line", {{"x1", "0"},
                       {"y1", "0"},
                       {"x2", "0"},
                       {"y2", "11"},
                       {"stroke", kPale},
                       {"stroke-opacity", "0.8"},
                       {"stroke-width", "3.4"}});
  out.close("pattern");
  out.close("defs");
}

void draw_threshold_line(svg::Writer& out, const std::string& path) {
  for (const auto& [colour, width_px] : {std::pair{kPale, "4.6"}, std::pair{plan::kInk, "2"}}) {
    out.element("path", {{"d", path},
                         {"fill", "none"},
                         {"stroke", colour},
                         {"stroke-width", width_px},
                         {"stroke-linejoin", "round"}});
  }
}

double draw_coverage_legend(svg::Writer& out, const CoverageMap& map, CoverageValue value, Point2 corner) {
  const ValueScale scale = value_scale(map, value);
  const double weak_below = map.reading.weak_below_percent;
  out.text(corner, value_phrase(map, value) + ", in " + value_unit(value),
           {{"fill", plan::kInk}, {"font-size", "13"}, {"font-weight", "bold"}});
  const Box2 bar{corner + Point2{0, 8}, corner + Point2{kBarWidthPx, 8 + kBarPx}};
  ramp(out, bar);
  figures(out, bar, scale);
  const std::string threshold = shortest_text(weak_below) + " %";
  zone_sign(out, {bar.max.x + 26, bar.min.y}, threshold);
  double y = bar.max.y + 16;
  if (value == CoverageValue::reading) mark(out, bar, scale.share(weak_below));
  if (value == CoverageValue::chance) {
    mark(out, bar, scale.share(kGoodChancePercent));
    y += 18;
    out.text({bar.min.x, y},
             "mark at " + shortest_text(kGoodChancePercent) +
                 " %: of ten readings taken on such spots, nine should reach " + threshold,
             {{"fill", plan::kInk}, {"font-size", "12"}});
  }
  return y;
}

}  // namespace linkmargin
