#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/drawing/label_layout.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::page {
namespace {

constexpr double kScalePx = 30;  // under the plan
constexpr Point2 kSizePx{kWaySizePx.x, kWaySizePx.y - kScalePx};
constexpr double kBadgePx = 9;
constexpr double kRoundM = 1.6;
constexpr double kLeastM = 6;
constexpr int kNameColumns = 22;
constexpr const char* kWay = "#8a2b12";

/// What a small plan shows: all hops with something about them, as wide as its paper.
Box2 window(const Link& link) {
  Box2 box = Box2::nothing();
  for (const Link* hop = &link; hop != nullptr; hop = hop->onward.get()) {
    for (const Point2 point : hop_points(*hop)) box.take(point);
  }
  const Point2 middle = 0.5 * (box.min + box.max);
  const Point2 own = box.max - box.min;
  const double wide = std::max({own.x + 2 * kRoundM, kLeastM, (own.y + 2 * kRoundM) * kSizePx.x / kSizePx.y});
  const Point2 half{wide / 2, wide / 2 * kSizePx.y / kSizePx.x};
  return {middle - half, middle + half};
}

Box2 square(Point2 middle, double half) {
  return {middle - Point2{half, half}, middle + Point2{half, half}};
}

class WayDrawing {
 public:
  WayDrawing(const PageModel& content, const DevicePage& entry, const std::vector<FallStep>& steps)
      : content_(content),
        entry_(entry),
        steps_(steps),
        way_(hop_points(*entry.link)),
        frame_{.world = window(*entry.link),
               .origin_px = {0, 0},
               .px_per_m = 1,
               .labels_px = {{4, 4}, kSizePx - Point2{4, 4}}},
        layout_(frame_.labels_px) {
    frame_.px_per_m = kSizePx.x / (frame_.world.max.x - frame_.world.min.x);
  }

  std::string draw() {
    out_.element("rect",
                 {{"width", svg::px(kSizePx.x)}, {"height", svg::px(kSizePx.y)}, {"fill", "#ffffff"}});
    building();
    lines();
    badges();
    radios();
    out_.element("rect", {{"y", svg::px(kSizePx.y)},
                          {"width", svg::px(kSizePx.x)},
                          {"height", svg::px(kScalePx)},
                          {"fill", "#ffffff"}});
    plan::draw_scale_bar(Wording(content_.language()), out_, {10, kSizePx.y + 18}, frame_.px_per_m);
    const std::string label = content_.say(
        "way.label",
        {{"device", html::name(entry_.device->name)}, {"stations", station_words(content_, *entry_.link)}});
    return "<svg class=\"way\" viewBox=\"0 0 " + svg::px(kSizePx.x) + " " + svg::px(kSizePx.y + kScalePx) +
           "\" width=\"" + svg::px(kSizePx.x) + "\" height=\"" + svg::px(kSizePx.y + kScalePx) +
           "\" role=\"img\" aria-label=\"" + svg::escaped(html::plain(label)) + "\">\n" + out_.take() +
           "</svg>\n";
  }

 private:
  /// The storey's building, moved and scaled to this plan.
  void building() {
    const std::size_t storey = entry_.device->place.storey;
    const plan::Frame whole = building_frame(content_.site(), storey);
    const Point2 at = frame_.at({whole.world.min.x, whole.world.max.y});
    out_.element("use", {{"href", "#" + building_id(storey)},
                         {"transform", "translate(" + svg::px(at.x) + " " + svg::px(at.y) + ") scale(" +
                                           fixed_text(frame_.px_per_m / whole.px_per_m, 4) + ")"}});
  }

  void polyline(const std::vector<Point2>& line, const char* colour, const char* width, const char* dashes) {
    std::vector<Point2> on_sheet;
    for (const Point2 point : line) on_sheet.push_back(frame_.at(point));
    out_.element("polyline", {{"points", svg::points(on_sheet)},
                              {"fill", "none"},
                              {"stroke", colour},
                              {"stroke-width", width},
                              {"stroke-linejoin", "round"},
                              {"stroke-dasharray", dashes}});
    for (std::size_t i = 0; i + 1 < on_sheet.size(); ++i)
      layout_.discourage(Segment2{on_sheet[i], on_sheet[i + 1]}, 2);
  }

  void lines() {
    for (const std::vector<Point2>& line : onward_lines(*entry_.link)) {
      polyline(line, "#ffffff", "6", "none");
      polyline(line, kWay, "2", kOnwardDashes);
      layout_.block(square(frame_.at(line.back()), 11));
    }
    if (way_.size() > 2) polyline({way_.front(), way_.back()}, kFaintInk, "1.6", "3 5");
    polyline(way_, "#ffffff", "6", "none");
    polyline(way_, kWay, "2.8", "none");
    layout_.block(square(frame_.at(way_.front()), 10));
    layout_.block(square(frame_.at(way_.back()), 11));
  }

  /// Numbers beside the way where it meets each thing, none over another.
  void badges() {
    for (const FallStep& step : steps_) {
      if (step.number == 0 || !step.at) continue;
      out_.open("g", {{"class", "met"}, {"data-step", std::to_string(step.number)}});
      badge(std::to_string(step.number), frame_.at(step.at->plan()));
      out_.close("g");
    }
  }

  void badge(const std::string& number, Point2 met) {
    out_.element("circle", {{"cx", svg::px(met.x)}, {"cy", svg::px(met.y)}, {"r", "3.2"}, {"fill", kWay}});
    const auto place = layout_.place({.lines = {number},
                                      .font_px = 2 * kBadgePx,
                                      .anchor = met,
                                      .clearance_px = 7,
                                      .reach_px = 120,
                                      .allowed = {}});
    if (!place) return;
    const Point2 middle = 0.5 * (place->box.min + place->box.max);
    if (place->leader) draw_line(out_, met, middle, kWay, "1");
    out_.element("circle", {{"cx", svg::px(middle.x)},
                            {"cy", svg::px(middle.y)},
                            {"r", svg::px(kBadgePx)},
                            {"fill", kWay},
                            {"stroke", "#ffffff"},
                            {"stroke-width", "1.5"}});
    out_.text({middle.x, middle.y + 4.2}, number,
              {{"fill", "#ffffff"}, {"font-size", "12"}, {"font-weight", "bold"}, {"text-anchor", "middle"}});
  }

  void radios() {
    const Point2 device = frame_.at(way_.front());
    const bool ruled = content_.site().profiles.at(entry_.device->profile).fixed_by_rule;
    plan::draw_device(out_, device, ruled, {});
    for (const Link* hop = entry_.link; hop != nullptr; hop = hop->onward.get()) station(*hop);
    name(entry_.device->name, device, kInk);
    for (const Link* hop = entry_.link; hop != nullptr; hop = hop->onward.get()) station_name(*hop);
  }

  /// What hears a hop.
  void station(const Link& hop) {
    const Point2 at = frame_.at(hop.to.plan());
    if (hop.onward) {
      plan::draw_repeater(out_, at, {});
    } else {
      plan::draw_hub(out_, at, {});
    }
  }

  void station_name(const Link& hop) {
    const Site& site = content_.site();
    const std::string& station = hop.heard_by();
    const std::size_t storey = hop.onward
                                   ? std::ranges::find(site.repeaters, station, &Repeater::name)->place.storey
                                   : std::ranges::find(site.hubs, station, &Hub::name)->place.storey;
    std::string text = station;
    if (storey != entry_.device->place.storey) {
      text = html::plain(
          content_.say("way.hub_elsewhere", {{"hub", text}, {"storey", site.storeys[storey].name}}));
    }
    name(text, frame_.at(hop.to.plan()), plan::kHub);
  }

  void name(const std::string& text, Point2 at, const char* colour) {
    const std::vector<std::string> lines =
        wrapped(shortened(printable(text), 2 * kNameColumns), kNameColumns);
    const auto place = layout_.place(
        {.lines = lines, .font_px = 12.5, .anchor = at, .clearance_px = 11, .reach_px = 160, .allowed = {}});
    if (!place) return;
    out_.element("rect", {{"x", svg::px(place->box.min.x)},
                          {"y", svg::px(place->box.min.y)},
                          {"width", svg::px(place->box.max.x - place->box.min.x)},
                          {"height", svg::px(place->box.max.y - place->box.min.y)},
                          {"rx", "2"},
                          {"fill", "#ffffff"},
                          {"fill-opacity", "0.82"}});
    double y = place->box.min.y + 1.5 + 0.92 * 12.5;
    for (const std::string& line : lines) {
      out_.text(
          {(place->box.min.x + place->box.max.x) / 2, y}, line,
          {{"fill", colour}, {"font-size", "12.5"}, {"font-weight", "bold"}, {"text-anchor", "middle"}});
      y += kLineSpacing * 12.5;
    }
  }

  const PageModel& content_;
  const DevicePage& entry_;
  const std::vector<FallStep>& steps_;
  std::vector<Point2> way_;
  plan::Frame frame_;
  LabelLayout layout_;
  svg::Writer out_;
};

}  // namespace

std::string way_drawing(const PageModel& content, const DevicePage& entry,
                        const std::vector<FallStep>& steps) {
  return WayDrawing(content, entry, steps).draw();
}

}  // namespace linkmargin::page
