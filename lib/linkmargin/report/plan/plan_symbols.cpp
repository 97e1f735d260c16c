#include "linkmargin/report/plan/plan_symbols.hpp"

namespace linkmargin::plan {
namespace {

void letter(svg::Writer& out, Point2 at, const char* sign) {
  out.text({at.x, at.y + 3.6}, sign,
           {{"fill", "#ffffff"}, {"font-size", "10"}, {"font-weight", "bold"}, {"text-anchor", "middle"}});
}

void hatch(svg::Writer& out, const char* id, const char* paper, const char* ink, const char* angle) {
  out.open("pattern", {{"id", id},
                       {"width", "6"},
                       {"height", "6"},
                       {"patternUnits", "userSpaceOnUse"},
                       {"patternTransform", std::string("rotate(") + angle + ")"}});
  out.element("rect", {{"width", "6"}, {"height", "6"}, {"fill", paper}});
  out.element("line",
              {{"x1", "0"}, {"y1", "0"}, {"x2", "0"}, {"y2", "6"}, {"stroke", ink}, {"stroke-width", "2.2"}});
  out.close("pattern");
}

}  // namespace

void draw_hub(svg::Writer& out, Point2 at, const std::string& tooltip) {
  out.element("rect",
              {{"x", svg::px(at.x - kHubPx)},
               {"y", svg::px(at.y - kHubPx)},
               {"width", svg::px(2 * kHubPx)},
               {"height", svg::px(2 * kHubPx)},
               {"rx", "2"},
               {"fill", kHub},
               {"stroke", "#ffffff"},
               {"stroke-width", "1.2"}},
              tooltip);
  letter(out, at, "H");
}

void draw_repeater(svg::Writer& out, Point2 at, const std::string& tooltip) {
  const double r = kHubPx + 1.5;
  out.element(
      "polygon",
      {{"points", svg::points({{at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y}})},
       {"fill", kRepeater},
       {"stroke", "#ffffff"},
       {"stroke-width", "1.2"}},
      tooltip);
  letter(out, at, "R");
}

void draw_planned(svg::Writer& out, Point2 at, bool is_hub, const std::string& stop,
                  const std::string& tooltip) {
  const double r = kHubPx + (is_hub ? 1.5 : 4.5);
  const std::vector<Point2> square{
      {at.x - r, at.y - r}, {at.x + r, at.y - r}, {at.x + r, at.y + r}, {at.x - r, at.y + r}};
  const std::vector<Point2> diamond{{at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y}};
  const char* colour = is_hub ? kHub : kRepeater;
  out.element("polygon",
              {{"points", svg::points(is_hub ? square : diamond)},
               {"fill", "#ffffff"},
               {"stroke", colour},
               {"stroke-width", "2"},
               {"stroke-dasharray", "3.5 2"}},
              tooltip);
  out.text({at.x, at.y + 3.6}, stop,
           {{"fill", colour}, {"font-size", "10"}, {"font-weight", "bold"}, {"text-anchor", "middle"}});
}

void draw_weak_ring(svg::Writer& out, Point2 at) {
  for (const auto& [colour, width_px] : {std::pair{"#ffffff", "4.4"}, std::pair{kInk, "1.8"}}) {
    out.element("circle", {{"cx", svg::px(at.x)},
                           {"cy", svg::px(at.y)},
                           {"r", svg::px(kDevicePx + 5)},
                           {"fill", "none"},
                           {"stroke", colour},
                           {"stroke-width", width_px}});
  }
}

void draw_device(svg::Writer& out, Point2 at, bool ruled, const std::string& tooltip,
                 const std::string& colour) {
  const double r = kDevicePx;
  const std::vector<Point2> corners{
      {at.x, at.y - r - 1.5}, {at.x + r + 1, at.y + r}, {at.x - r - 1, at.y + r}};
  const auto stroked = [&](const char* ink, const char* width_px, const std::string& told) {
    if (ruled) {
      out.element("polygon",
                  {{"points", svg::points(corners)},
                   {"fill", colour},
                   {"stroke", ink},
                   {"stroke-width", width_px},
                   {"stroke-linejoin", "round"}},
                  told);
    } else {
      out.element("circle",
                  {{"cx", svg::px(at.x)},
                   {"cy", svg::px(at.y)},
                   {"r", svg::px(r)},
                   {"fill", colour},
                   {"stroke", ink},
                   {"stroke-width", width_px}},
                  told);
    }
  };
  stroked("#ffffff", "5", {});  // a pale rim, and a line that is still one at a quarter of the size
  stroked(kInk, "2.2", tooltip);
}

void draw_hatches(svg::Writer& out) {
  out.open("defs");
  hatch(out, "obstacle", "#efebf4", "#a99cc0", "45");
  out.close("defs");
}

}  // namespace linkmargin::plan
