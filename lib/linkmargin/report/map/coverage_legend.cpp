#include "linkmargin/report/map/coverage_legend.hpp"

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/coverage_contours.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/coverage_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr const char* kPale = "#ffffff";

void figures(const Wording& wording, svg::Writer& out, const Box2& bar, const ValueScale& scale) {
  const double span = std::abs(scale.strong - scale.weak);
  const double step = plan::round_length_m(span / 10 - 1e-9);
  const double least = std::min(scale.weak, scale.strong);
  for (double n = std::ceil(least / step - 1e-9); n * step <= least + span + 1e-9; ++n) {
    const double x = bar.min.x + kBarWidthPx * scale.share(n * step);
    draw_palette_figure(out, {x, bar.max.y}, wording.number(n == 0 ? 0 : n * step));
  }
}

/// Across the bar, at a share of it.
void mark(svg::Writer& out, const Box2& bar, double share) {
  const double x = bar.min.x + kBarWidthPx * share;
  for (const auto& [colour, width_px] : {std::pair{kPale, "4.6"}, std::pair{kInk, "2"}}) {
    draw_line(out, {x, bar.min.y - 3}, {x, bar.max.y + 3}, colour, width_px);
  }
}

}  // namespace

void draw_palette(svg::Writer& out, const Box2& bar, double threshold) {
  for (const double step : map_steps(threshold)) {
    // Each colour reaches to the bar's end under those that follow, so that no paper shows between them.
    const double x = bar.min.x + (bar.max.x - bar.min.x) * step;
    out.element("rect", {{"x", svg::px(x)},
                         {"y", svg::px(bar.min.y)},
                         {"width", svg::px(bar.max.x - x)},
                         {"height", svg::px(bar.max.y - bar.min.y)},
                         {"fill", hex_text(map_colour(step, threshold))}});
  }
}

void draw_palette_figure(svg::Writer& out, Point2 at, const std::string& figure) {
  draw_line(out, at, at + Point2{0, 4}, kInk, "1");
  out.text(at + Point2{0, 16}, figure, {{"fill", kInk}, {"font-size", "12"}, {"text-anchor", "middle"}});
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
  for (const auto& [colour, width_px] : {std::pair{kPale, "4.6"}, std::pair{kInk, "2"}}) {
    out.element("path", {{"d", path},
                         {"fill", "none"},
                         {"stroke", colour},
                         {"stroke-width", width_px},
                         {"stroke-linejoin", "round"}});
  }
}

void draw_zone_sample(svg::Writer& out, const Box2& bar, Rgb colour, bool hatched, const std::string& words) {
  const Point2 at{bar.max.x + 26, bar.min.y};
  const std::vector<Point2> box{at, at + Point2{44, 0}, at + Point2{44, kLegendBarPx},
                                at + Point2{0, kLegendBarPx}};
  out.element("polygon", {{"points", svg::points(box)}, {"fill", hex_text(colour)}});
  if (hatched) out.element("polygon", {{"points", svg::points(box)}, {"fill", "url(#weak)"}});
  draw_threshold_line(out, "M" + svg::points(box) + "Z");
  out.text({at.x + 54, at.y + 12}, words, {{"fill", kInk}, {"font-size", "12"}});
}

double draw_coverage_legend(const Wording& wording, svg::Writer& out, const CoverageMap& map,
                            CoverageValue value, Point2 corner) {
  const ValueScale scale = value_scale(map, value);
  const double weak_below = map.reading.weak_below_percent;
  out.text(corner,
           wording.say("coverage.sheet.unit",
                       {{"value", value_phrase(wording, map, value)}, {"unit", value_unit(value)}}),
           {{"fill", kInk}, {"font-size", "13"}, {"font-weight", "bold"}});
  const Box2 bar{corner + Point2{0, 8}, corner + Point2{kBarWidthPx, 8 + kLegendBarPx}};
  const double at_threshold = threshold_share(map, value);
  draw_palette(out, bar, at_threshold);
  draw_frame(out, bar, kInk);
  figures(wording, out, bar, scale);
  const Language::Place threshold{"threshold", threshold_text(wording, map)};
  draw_zone_sample(out, bar, map_colour(at_threshold / 2, at_threshold), true,
                   wording.say("coverage.sheet.weak", {threshold}));
  double y = bar.max.y + 16;
  if (value == CoverageValue::reading) mark(out, bar, scale.share(weak_below));
  if (value == CoverageValue::chance) {
    mark(out, bar, scale.share(kGoodChancePercent));
    y += 18;
    out.text({bar.min.x, y},
             wording.say("coverage.sheet.sure", {{"sure", wording.number(kGoodChancePercent)}, threshold}),
             {{"fill", kInk}, {"font-size", "12"}});
  }
  return y;
}

}  // namespace linkmargin
