#include "linkmargin/report/plan/plan_legend.hpp"

#include "linkmargin/report/plan/plan_symbols.hpp"

#include <utility>

namespace linkmargin::plan {
namespace {

constexpr double kFontPx = 11;

/// Collects the signs with their words.
class Legend {
 public:
  using Draw = std::function<void(svg::Writer&, Point2)>;

  explicit Legend(const Wording& wording) : wording_(wording) {}

  void add(const char* sign, Draw draw) {
    add_of(wording_.say(std::string("legend.") + sign), std::move(draw));
  }

  /// The same with words of its own.
  void add_of(std::string words, Draw draw) { entries_.push_back({std::move(words), std::move(draw)}); }

  std::vector<LegendEntry> take() { return std::move(entries_); }

 private:
  const Wording& wording_;
  std::vector<LegendEntry> entries_;
};

Legend::Draw box(const char* fill, const char* stroke, const char* dashes = "none",
                 const char* opacity = "1") {
  return [=](svg::Writer& out, Point2 middle) {
    out.element("rect", {{"x", svg::px(middle.x - 13)},
                         {"y", svg::px(middle.y - 5)},
                         {"width", "26"},
                         {"height", "10"},
                         {"fill", fill},
                         {"fill-opacity", opacity},
                         {"stroke", stroke},
                         {"stroke-width", "1.4"},
                         {"stroke-dasharray", dashes}});
  };
}

void line(svg::Writer& out, Point2 middle, double offset, const char* colour, const char* width_px,
          const char* dashes = "none") {
  out.element("line", {{"x1", svg::px(middle.x - 13)},
                       {"y1", svg::px(middle.y + offset)},
                       {"x2", svg::px(middle.x + 13)},
                       {"y2", svg::px(middle.y + offset)},
                       {"stroke", colour},
                       {"stroke-width", width_px},
                       {"stroke-dasharray", dashes}});
}

Legend::Draw lone_line(const char* colour, const char* width_px, const char* dashes = "none") {
  return [=](svg::Writer& out, Point2 middle) { line(out, middle, 0, colour, width_px, dashes); };
}

void jambs(svg::Writer& out, Point2 middle) {
  for (const double x : {-13.0, 13.0}) {
    out.element("line", {{"x1", svg::px(middle.x + x)},
                         {"y1", svg::px(middle.y - 5)},
                         {"x2", svg::px(middle.x + x)},
                         {"y2", svg::px(middle.y + 5)},
                         {"stroke", kInk},
                         {"stroke-width", "1.4"}});
  }
}

void radios(Legend& legend, const Signs& signs) {
  using svg::Writer;
  if (signs.hub) legend.add("hub", [](Writer& out, Point2 at) { draw_hub(out, at, {}); });
  if (signs.repeater) legend.add("repeater", [](Writer& out, Point2 at) { draw_repeater(out, at, {}); });
  if (signs.planned)
    legend.add("planned", [](Writer& out, Point2 at) { draw_planned(out, at, false, "1", {}); });
  const char* colour = signs.map ? "#ffffff" : kDevice;
  const auto device = [colour](bool ruled) {
    return [=](Writer& out, Point2 at) { draw_device(out, at, ruled, {}, colour); };
  };
  if (signs.device) legend.add(signs.map ? "map_device" : "device", device(false));
  if (signs.ruled_device) legend.add("ruled_device", device(true));
  if (signs.weak_device) {
    legend.add("weak_device", [=](Writer& out, Point2 at) {
      draw_weak_ring(out, at);
      device(false)(out, at);
    });
  }
  if (signs.reach) legend.add("reach", lone_line(kFaintInk, "1.2", "1.5 3"));
  if (signs.area) legend.add("area", box(kArea, kArea, "8 5", "0.07"));
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
    legend.add_of(wall_words(wording, material, sign), box(sign.fill, sign.fill));
  if (signs.open_plan) legend.add("open_plan", lone_line(kInnerWall, "1.2", "2 5"));
  if (signs.door) {
    legend.add("door", [](svg::Writer& out, Point2 middle) {
      jambs(out, middle);
      line(out, middle, 0, kDoor, "3.4");
    });
  }
  if (signs.glazing) {
    legend.add("glazing", [](svg::Writer& out, Point2 middle) {
      jambs(out, middle);
      line(out, middle, -2, kGlazing, "1.6");
      line(out, middle, 2, kGlazing, "1.6");
    });
  }
  if (signs.gap) legend.add("gap", jambs);
  if (signs.obstacle) legend.add("obstacle", box("url(#obstacle)", kObstacle));
  if (signs.floor_opening) legend.add("floor_opening", box("#ffffff", kFloorOpening, "5 3"));
}

}  // namespace

std::vector<LegendEntry> legend_entries(const Wording& wording, const Signs& signs) {
  Legend legend(wording);
  radios(legend, signs);
  building(wording, legend, signs);
  return legend.take();
}

double draw_legend(const Wording& wording, svg::Writer& out, const Signs& signs, Point2 corner,
                   double width_px) {
  Point2 at = corner;
  for (const LegendEntry& entry : legend_entries(wording, signs)) {
    const double wide = kLegendSignPx.x + 8 + kFontPx * svg::text_width_em(entry.words) + 18;
    if (at.x > corner.x && at.x + wide > corner.x + width_px) at = {corner.x, at.y + kLegendSignPx.y};
    const Point2 middle = at + 0.5 * kLegendSignPx;
    out.text({at.x + kLegendSignPx.x + 8, middle.y + 4}, entry.words,
             {{"fill", kInk}, {"font-size", svg::px(kFontPx)}});
    entry.draw(out, middle);
    at.x += wide;
  }
  return at.y + kLegendSignPx.y;
}

}  // namespace linkmargin::plan
