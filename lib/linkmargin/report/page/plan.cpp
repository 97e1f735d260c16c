#include "linkmargin/report/page/plan.hpp"

#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/map/coverage_layer.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/plan/framed_plan.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/visit/visit_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace linkmargin::page {
namespace {

constexpr Point2 kPageMapPx{900, 560};  // wide, beside what to do
constexpr double kRulerPx = 26;
constexpr double kEdgePx = 9;  // for the last figures of the rulers

std::string opening_tag(Point2 size_px, const std::string& css_class, const std::string& label) {
  const std::string width = svg::px(size_px.x), height = svg::px(size_px.y);
  return "<svg class=\"" + css_class + "\" viewBox=\"0 0 " + width + " " + height + "\" width=\"" + width +
         "\" height=\"" + height + "\" role=\"group\" aria-label=\"" + svg::escaped(html::plain(label)) +
         "\">\n";
}

std::size_t storey_of(const PageModel& content, const CoverageMap& map) {
  const auto& storeys = content.site().storeys;
  return static_cast<std::size_t>(std::ranges::find(storeys, map.storey, &Storey::name) - storeys.begin());
}

/// Where the maps of a storey lie on their sheets, all alike.
struct MapSheet {
  /// On a page, which scrolls where a site is large.
  MapSheet(const PageModel& content, const CoverageMap& map)
      : MapSheet(shown(content, map), kPageMapPx, 8, std::to_string(storey_of(content, map))) {}

  /// On paper.
  MapSheet(const PageModel& content, const CoverageMap& map, Point2 most_px)
      : MapSheet(shown(content, map), most_px - Point2{kRulerPx + kEdgePx, kRulerPx + kEdgePx}, 0,
                 "paper-" + std::to_string(storey_of(content, map))) {}

  double longest_m = 1;
  Point2 size_px;
  plan::FramedPlan plan;

 private:
  static plan::Framing shown(const PageModel& content, const CoverageMap& map) {
    return plan::framing(content.site(), map_box(map), content.options().shown);
  }

  MapSheet(const plan::Framing& both, Point2 most_px, double least_px_per_m, const std::string& id) {
    const plan::Framing of = plan::arranged(both, most_px);
    longest_m = std::max(of.wide_m(), of.high_m());
    const double fitting = std::min(plan::fitting_px_per_m(of, most_px), 70.0);
    const double px_per_m = std::max(fitting, std::min(least_px_per_m, 3600 / longest_m));
    plan = plan::framed_plan(of, {kRulerPx, kEdgePx}, px_per_m, id);
    size_px = plan.size_px + Point2{kRulerPx + kEdgePx, kRulerPx + kEdgePx};
  }
};

std::string over_map_id(std::size_t storey, const plan::Frame& frame) {
  return (frame.elsewhere ? "over-all-" : "over-map-") + std::to_string(storey);
}

class MapDrawing {
 public:
  MapDrawing(const PageModel& content, const DoorsReview& state, const CoverageMap& map, CoverageValue value,
             const MapSheet& sheet)
      : content_(content),
        plain_(content.language()),
        state_(state),
        map_(map),
        value_(value),
        sheet_(sheet),
        storey_(storey_of(content, map)) {}

  /// For a page: its building stands in plan_parts() already.
  std::string draw() {
    svg::Writer out(svg::Writer::Tooltips::none);
    draw(out, marks(true), [&](svg::Writer& to, const plan::Frame& frame) {
      to.element("use", {{"href", "#" + over_map_id(storey_, frame)}});
    });
    ways(out);
    return opening_tag(sheet_.size_px, "plan",
                       content_.say("plan.label", {{"storey", html::name(map_.storey)}})) +
           out.take() + "</svg>\n";
  }

  /// On its own.
  void draw_whole(svg::Writer& out) {
    plan::draw_clips(out, sheet_.plan);
    draw(out, marks(false), {});
  }

 private:
  void draw(svg::Writer& out, std::map<std::string, plan::DeviceMark> marks,
            std::function<void(svg::Writer&, const plan::Frame&)> building) {
    const plan::Frame& main = sheet_.plan.main;
    const Point2 size = sheet_.size_px;
    const Point2 lower_right = main.at({main.world.max.x, main.world.min.y});
    out.element("rect", {{"width", svg::px(size.x)}, {"height", svg::px(size.y)}, {"fill", "#ffffff"}});
    plan::draw_grid(plain_, out, main, main.world, 0,
                    plan::grid_step_m(main.px_per_m, sheet_.longest_m, plain_.language().length_unit()),
                    {{kRulerPx - 4, kEdgePx}, lower_right + Point2{0, 4}});
    const plan::Underlay underlay{[&](svg::Writer& to, const plan::Frame& frame) {
                                    to.open("g", {{"class", "cells"}});
                                    draw_coverage(to, map_, value_, frame);
                                    to.close("g");
                                  },
                                  std::move(marks), planned_stations(content_), std::move(building)};
    plan::Signs signs;
    plan::draw_framed(plain_, out, content_.site(), storey_, sheet_.plan, signs, &underlay);
  }

  const Link* link_of(const DevicePage& entry) const {
    return &state_ == &content_.review().states.front() ? entry.link : entry.other_doors;
  }

  std::map<std::string, plan::DeviceMark> marks(bool with_links) const {
    std::map<std::string, plan::DeviceMark> marks;
    for (const DevicePage& entry : content_.entries()) {
      const Link* link = link_of(entry);
      if (link == nullptr || entry.device->place.storey != storey_) continue;
      const bool read = link == entry.link && entry.read_percent.has_value();  // what was read counts
      const bool chance = value_ == CoverageValue::chance;
      const bool weak = read ? *entry.read_percent < content_.threshold_percent() : link->weak;
      const double pass_probability = read ? (weak ? 0 : 1) : link->pass_probability;
      const double percent = read ? *entry.read_percent : link->told().reading_percent;
      const double shown = chance ? 100 * pass_probability : percent;
      const std::string figure =
          (chance ? content_.wording().chance_figure(shown / 100) : content_.percent_text(shown)) + " %";
      marks[entry.device->name] = {
          .colour = hex_text(
              map_colour(shown / 100, chance ? kSureProbability : content_.threshold_percent() / 100)),
          .figure = weak ? content_.say("sign.weak", {{"figure", figure}}) : figure,
          .weak = weak,
          .link = with_links ? "#" + entry.id() : std::string()};
    }
    return marks;
  }

  /// Hidden until a script points one out.
  void ways(svg::Writer& out) const {
    for (const DevicePage& entry : content_.entries()) {
      const Link* link = link_of(entry);
      if (link == nullptr || entry.device->place.storey != storey_) continue;
      const plan::Frame& frame = sheet_.plan.frame_of(entry.device->place.at);
      out.open("g", {{"class", "lit-way"},
                     {"data-device", entry.id()},
                     {"clip-path", frame.clip.empty() ? "none" : "url(#" + frame.clip + ")"}});
      for (const std::vector<Point2>& line : onward_lines(*link)) way(out, frame, line, kOnwardDashes);
      way(out, frame, hop_points(*link), "none");
      out.close("g");
    }
  }

  static void way(svg::Writer& out, const plan::Frame& frame, std::vector<Point2> line, const char* dashes) {
    for (Point2& point : line) point = frame.at(point);
    for (const auto& [colour, width_px] : {std::pair{"#ffffff", "6"}, std::pair{kInk, "3"}}) {
      out.element("polyline", {{"points", svg::points(line)},
                               {"fill", "none"},
                               {"stroke", colour},
                               {"stroke-width", width_px},
                               {"stroke-dasharray", dashes}});
    }
  }

  const PageModel& content_;
  Wording plain_;
  const DoorsReview& state_;
  const CoverageMap& map_;
  CoverageValue value_;
  MapSheet sheet_;
  std::size_t storey_;
};

}  // namespace

std::vector<plan::PlannedStation> planned_stations(const PageModel& content) {
  std::vector<plan::PlannedStation> found;
  const VisitPlan& visit = content.review().visit;
  for (std::size_t i = 0; i < visit.stops.size(); ++i) {
    const auto* work = std::get_if<SharedWork>(&visit.stops[i].work);
    if (work == nullptr || work->kind == SharedKind::spacer) continue;  // it is drawn where it stays
    const StopWords words = stop_words(Wording(content.language()), content.site(), visit, visit.stops[i]);
    found.push_back({visit.stops[i].place,
                     work->kind == SharedKind::hub_added || work->kind == SharedKind::hub_moved, words.name,
                     std::to_string(i + 1)});
  }
  return found;
}

std::vector<Point2> hop_points(const Link& hop) {
  std::vector<Point2> points{hop.from.plan()};
  for (const Point3 turn : hop.loss.turns) points.push_back(turn.plan());
  points.push_back(hop.to.plan());
  return points;
}

std::vector<std::vector<Point2>> onward_lines(const Link& link) {
  std::vector<std::vector<Point2>> lines;
  for (const Link* hop = link.onward.get(); hop != nullptr; hop = hop->onward.get())
    lines.push_back(hop_points(*hop));
  return lines;
}

std::string building_id(std::size_t storey) {
  return "building-" + std::to_string(storey);
}

plan::Frame building_frame(const Site& site, std::size_t storey) {
  constexpr double px_per_m = 20;
  const Box2 box = storey_extent(site, storey);
  return {.world = {box.min - Point2{1, 1}, box.max + Point2{1, 1}},
          .origin_px = {},
          .px_per_m = px_per_m,
          .labels_px = {}};
}

std::string plan_parts(const PageModel& content) {
  svg::Writer out(svg::Writer::Tooltips::none);
  const Wording plain(content.language());
  plan::draw_hatches(out);
  draw_weak_hatch(out);
  out.open("defs");
  plan::Signs signs;
  for (const CoverageMap& map : content.review().states.front().maps) {
    const std::size_t storey = storey_of(content, map);
    out.open("g", {{"id", building_id(storey)}, {"class", "building"}});
    plan::draw_building(plain, out, content.site(), storey, building_frame(content.site(), storey), signs);
    out.close("g");
    const MapSheet sheet(content, map);
    plan::draw_clips(out, sheet.plan);
    out.open("g", {{"id", over_map_id(storey, sheet.plan.main)}});
    plan::draw_over_map(plain, out, content.site(), storey, sheet.plan.main, signs);
    out.close("g");
    if (!sheet.plan.all) continue;
    out.open("g", {{"id", over_map_id(storey, *sheet.plan.all)}});
    plan::draw_over_map(plain, out, content.site(), storey, *sheet.plan.all, signs);
    out.close("g");
  }
  out.close("defs");
  return "<svg class=\"patterns\" width=\"0\" height=\"0\" aria-hidden=\"true\" focusable=\"false\">\n" +
         out.take() + "</svg>\n";
}

std::string map_drawing(const PageModel& content, std::size_t state, std::size_t map, CoverageValue value) {
  const DoorsReview& review = content.review().states[state];
  return MapDrawing(content, review, review.maps[map], value, MapSheet(content, review.maps[map])).draw();
}

Point2 draw_map(svg::Writer& out, const PageModel& content, std::size_t map, Point2 most_px) {
  const DoorsReview& review = content.review().states.front();
  const MapSheet sheet(content, review.maps[map], most_px);
  MapDrawing(content, review, review.maps[map], CoverageValue::reading, sheet).draw_whole(out);
  return sheet.size_px;
}

MapPoints::MapPoints(const PageModel& content) {
  for (const CoverageMap& map : content.review().states.front().maps)
    sheets_.emplace_back(storey_of(content, map), MapSheet(content, map).plan);
}

std::optional<MapPoint> MapPoints::of(const Placement& place) const {
  for (std::size_t i = 0; i < sheets_.size(); ++i) {
    if (sheets_[i].first == place.storey)
      return MapPoint{i, sheets_[i].second.frame_of(place.at).at(place.at)};
  }
  return {};
}

std::string standing_sign(const Wording& wording, Standing standing) {
  const std::string label = wording.say("standing." + word(standing));
  const char* shape =
      standing == Standing::weak
          ? "<path d=\"M10 2 L19 18 L1 18 Z\"/><path class=\"hole\" d=\"M10 7.5 V12.5 M10 14.6 V16\"/>"
      : standing == Standing::close
          ? "<path d=\"M10 1 L19 10 L10 19 L1 10 Z\"/><path class=\"hole\" d=\"M5.5 10 H14.5\"/>"
          : "<circle cx=\"10\" cy=\"10\" r=\"8.5\"/><path class=\"hole\" d=\"M5.8 10.2 L8.8 13.2 "
            "L14.2 7\"/>";
  return "<svg class=\"sign " + word(standing) +
         "\" viewBox=\"0 0 20 20\" width=\"20\" height=\"20\" role=\"img\" aria-label=\"" +
         svg::escaped(label) + "\">" + shape + "</svg>";
}

}  // namespace linkmargin::page
