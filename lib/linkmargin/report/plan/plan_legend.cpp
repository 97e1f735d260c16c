#include "linkmargin/report/plan/plan_legend.hpp"

#include "linkmargin/report/plan/plan_symbols.hpp"

namespace linkmargin::plan {
namespace {

constexpr double kSignPx = 30;
constexpr double kRowPx = 24;
constexpr double kFontPx = 11;

class Legend {
 public:
  Legend(const Wording& wording, svg::Writer& out, Point2 corner, double width_px)
      : wording_(wording), out_(out), left_(corner.x), right_(corner.x + width_px), at_(corner) {}

  /// Where the next sign goes: its middle. Its words are set beside it.
  Point2 next(const char* sign) { return next_of(wording_.say(std::string("legend.") + sign)); }

  /// The same with words of its own.
  Point2 next_of(const std::string& words) {
    const double wide = kSignPx + 8 + kFontPx * svg::text_width_em(words) + 18;
    if (at_.x > left_ && at_.x + wide > right_) at_ = {left_, at_.y + kRowPx};
    const Point2 middle{at_.x + kSignPx / 2, at_.y + kRowPx / 2};
    out_.text({at_.x + kSignPx + 8, middle.y + 4}, words, {{"fill", kInk}, {"font-size", svg::px(kFontPx)}});
    at_.x += wide;
    return middle;
  }

  void box(const char* sign, const char* fill, const char* stroke, const char* dashes = nullptr,
           const char* opacity = "1") {
    box_at(next(sign), fill, stroke, dashes, opacity);
  }

  void box_at(Point2 middle, const char* fill, const char* stroke, const char* dashes = nullptr,
              const char* opacity = "1") {
    out_.element("rect", {{"x", svg::px(middle.x - 13)},
                          {"y", svg::px(middle.y - 5)},
                          {"width", "26"},
                          {"height", "10"},
                          {"fill", fill},
                          {"fill-opacity", opacity},
                          {"stroke", stroke},
                          {"stroke-width", "1.4"},
                          {"stroke-dasharray", dashes == nullptr ? "none" : dashes}});
  }

  void line(Point2 middle, double offset, const char* colour, const char* width_px,
            const char* dashes = "none") {
    out_.element("line", {{"x1", svg::px(middle.x - 13)},
                          {"y1", svg::px(middle.y + offset)},
                          {"x2", svg::px(middle.x + 13)},
                          {"y2", svg::px(middle.y + offset)},
                          {"stroke", colour},
                          {"stroke-width", width_px},
                          {"stroke-dasharray", dashes}});
  }

  void jambs(Point2 middle) {
    for (const double x : {-13.0, 13.0}) {
      out_.element("line", {{"x1", svg::px(middle.x + x)},
                            {"y1", svg::px(middle.y - 5)},
                            {"x2", svg::px(middle.x + x)},
                            {"y2", svg::px(middle.y + 5)},
                            {"stroke", kInk},
                            {"stroke-width", "1.4"}});
    }
  }

  double bottom() const { return at_.y + kRowPx; }

 private:
  const Wording& wording_;
  svg::Writer& out_;
  double left_;
  double right_;
  Point2 at_;
};

void radios(svg::Writer& out, Legend& legend, const Signs& signs) {
  if (signs.hub) draw_hub(out, legend.next("hub"), {});
  if (signs.repeater) draw_repeater(out, legend.next("repeater"), {});
  const char* colour = signs.map ? "#ffffff" : kDevice;
  const char* device = signs.map ? "map_device" : "device";
  if (signs.device) draw_device(out, legend.next(device), false, {}, colour);
  if (signs.ruled_device) {
    draw_device(out, legend.next("ruled_device"), true, {}, colour);
  }
  if (signs.weak_device) {
    const Point2 middle = legend.next("weak_device");
    draw_weak_ring(out, middle);
    draw_device(out, middle, false, {}, colour);
  }
  if (signs.reach) legend.line(legend.next("reach"), 0, kFaintInk, "1.2", "1.5 3");
  if (signs.area) legend.box("area", kArea, kArea, "8 5", "0.07");
}

/// "brick, 10 to 22 cm"
std::string wall_words(const Wording& wording, const std::string& material, const WallSign& sign) {
  const Language::Place name{"material", wording.language().material(material)};
  if (!sign.least_m) return wording.say("legend.wall", {name});
  const std::string least = wording.length(*sign.least_m), most = wording.length(*sign.most_m);
  return least == most ? wording.say("legend.wall_thick", {name, {"thick", least}})
                       : wording.say("legend.wall_thicks", {name, {"least", least}, {"most", most}});
}

void building(const Wording& wording, Legend& legend, const Signs& signs) {
  for (const auto& [material, sign] : signs.walls)
    legend.box_at(legend.next_of(wall_words(wording, material, sign)), sign.fill, sign.fill);
  if (signs.open_plan) legend.line(legend.next("open_plan"), 0, kInnerWall, "1.2", "2 5");
  if (signs.door) {
    const Point2 middle = legend.next("door");
    legend.jambs(middle);
    legend.line(middle, 0, kDoor, "3.4");
  }
  if (signs.glazing) {
    const Point2 middle = legend.next("glazing");
    legend.jambs(middle);
    legend.line(middle, -2, kGlazing, "1.6");
    legend.line(middle, 2, kGlazing, "1.6");
  }
  if (signs.gap) legend.jambs(legend.next("gap"));
  if (signs.obstacle) legend.box("obstacle", "url(#obstacle)", kObstacle);
  if (signs.floor_opening) legend.box("floor_opening", "#ffffff", kFloorOpening, "5 3");
}

}  // namespace

double draw_legend(const Wording& wording, svg::Writer& out, const Signs& signs, Point2 corner,
                   double width_px) {
  Legend legend(wording, out, corner, width_px);
  radios(out, legend, signs);
  building(wording, legend, signs);
  return legend.bottom();
}

}  // namespace linkmargin::plan
