#include "linkmargin/report/plan/framed_plan.hpp"

#include "linkmargin/report/drawing/text_lines.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

namespace linkmargin::plan {
namespace {

constexpr double kTouchM = 0.6;  // rooms so near to each other are of one building
constexpr double kOutsideM = 1;  // what hangs so near to it is of the building
constexpr double kRoundM = 1.2;
constexpr double kMostBeside = 0.9;   // where more radios are off the building than on it
constexpr double kWorthBeside = 2.2;  // so many times the building's area all of it is shown beside
constexpr double kTakenIn = 1.3;      // a building near by is taken in where the plan grows no more than so
constexpr double kRimPx = 3;
constexpr Lettering kTitleLettering{10, kFaintInk, false};
constexpr double kLeastTitlePx = 110;

double area_m2(const Box2& box) {
  return box.empty() ? 0 : (box.max.x - box.min.x) * (box.max.y - box.min.y);
}

Box2 grown(const Box2& box, double by) {
  return {box.min - Point2{by, by}, box.max + Point2{by, by}};
}

/// Rooms that touch, seen from above.
struct Building {
  Box2 box = Box2::nothing();
  double area_m2 = 0;
  std::size_t hubs = 0;
  std::size_t radios = 0;
};

std::vector<Building> buildings_of(const Site& site) {
  std::vector<Building> found;
  for (const Storey& storey : site.storeys) {
    for (const Room& room : storey.rooms) {
      Building joined;
      joined.box.take(bounding_box(room.corners));
      joined.area_m2 = std::abs(signed_area(room.corners));
      // A room may join buildings that were apart, and so again what lies between them.
      for (bool grows = true; grows;) {
        grows = false;
        for (std::size_t i = 0; i < found.size(); ++i) {
          if (!found[i].box.meets(grown(joined.box, kTouchM))) continue;
          joined.box.take(found[i].box);
          joined.area_m2 += found[i].area_m2;
          found.erase(found.begin() + static_cast<std::ptrdiff_t>(i));
          grows = true;
          break;
        }
      }
      found.push_back(joined);
    }
  }
  const auto count = [&](const auto& radios, bool hubs) {
    for (const auto& radio : radios) {
      for (Building& building : found) {
        if (!grown(building.box, kOutsideM).holds(radio.place.at)) continue;
        ++building.radios;
        building.hubs += hubs ? 1 : 0;
        break;
      }
    }
  };
  count(site.hubs, true);
  count(site.repeaters, false);
  count(site.devices, false);
  return found;
}

}  // namespace

Box2 main_building(const Site& site) {
  const std::vector<Building> buildings = buildings_of(site);
  if (buildings.empty()) return Box2::nothing();
  const Building& main = *std::ranges::max_element(
      buildings, {}, [](const Building& of) { return std::tuple(of.hubs, of.radios, of.area_m2); });
  Box2 box = main.box;
  const auto hangs_on = [&](const auto& radios) {
    for (const auto& radio : radios) {
      if (grown(main.box, kOutsideM).holds(radio.place.at)) box.take(radio.place.at);
    }
  };
  hangs_on(site.hubs);
  hangs_on(site.repeaters);
  hangs_on(site.devices);
  box = grown(box, kRoundM);
  for (const Building& other : buildings) {
    Box2 both = box;
    both.take(grown(other.box, kRoundM));
    if (area_m2(both) <= kTakenIn * area_m2(box)) box = both;
  }
  return box;
}

double Framing::wide_m() const {
  if (!all_beside || below) return main_m().x;
  const Point2 size = all.max - all.min;
  return main_m().x + std::min(main_m().y * size.x / size.y, most_beside * main_m().x);
}

double Framing::high_m() const {
  if (!all_beside || !below) return main_m().y;
  const Point2 size = all.max - all.min;
  return main_m().y + std::min(main_m().x * size.y / size.x, most_beside * main_m().y);
}

Framing arranged(Framing of, Point2 most_px) {
  if (!of.all_beside) return of;
  Framing below = of;
  below.below = true;
  return fitting_px_per_m(below, most_px) > fitting_px_per_m(of, most_px) ? below : of;
}

Framing framing(const Site& site, const Box2& all, PlanFraming asked) {
  Framing of{.all = all, .main = all};
  if (asked == PlanFraming::all) return of;
  Box2 main = main_building(site);
  if (main.empty()) return of;
  main.min = {std::max(main.min.x, all.min.x), std::max(main.min.y, all.min.y)};
  main.max = {std::min(main.max.x, all.max.x), std::min(main.max.y, all.max.y)};
  const bool seen = main.max.x > main.min.x && main.max.y > main.min.y;
  if (!seen || area_m2(all) <= kWorthBeside * area_m2(main)) return of;
  of.main = main;
  of.all_beside = true;
  std::size_t on_it = 0, off_it = 0;
  const auto count = [&](const auto& radios) {
    for (const auto& radio : radios) ++(main.holds(radio.place.at) ? on_it : off_it);
  };
  count(site.hubs);
  count(site.repeaters);
  count(site.devices);
  if (off_it > on_it) of.most_beside = kMostBeside;
  return of;
}

double fitting_px_per_m(const Framing& of, Point2 most_px) {
  if (of.all_beside) (of.below ? most_px.y : most_px.x) -= of.below ? kBelowPx : kBesidePx;
  return std::min(most_px.x / of.wide_m(), most_px.y / of.high_m());
}

FramedPlan framed_plan(const Framing& of, Point2 upper_left_px, double px_per_m, const std::string& id,
                       double beside_px) {
  const auto frame = [&](const Box2& world, Point2 corner, double scale, const std::string& clip) {
    const Point2 size = scale * (world.max - world.min);
    const Point2 rim{kRimPx, kRimPx};
    return Frame{.world = world,
                 .origin_px = corner,
                 .px_per_m = scale,
                 .labels_px = {corner + rim, corner + size - rim},
                 .clip = clip};
  };
  FramedPlan plan{
      .main = frame(of.main, upper_left_px, px_per_m, of.all_beside ? "main-" + id : std::string()),
      .size_px = px_per_m * of.main_m()};
  if (!of.all_beside) return plan;
  const Point2 main_px = plan.size_px, own_m = of.all.max - of.all.min;
  if (of.below) {
    const double high_px = px_per_m * of.high_m() - main_px.y;
    plan.all = frame(of.all, upper_left_px + Point2{0, main_px.y + kBelowPx}, high_px / own_m.y, "all-" + id);
    plan.size_px.y += kBelowPx + high_px;
  } else {
    const double wide_px = px_per_m * of.wide_m() - main_px.x;
    plan.all = frame(of.all, upper_left_px + Point2{main_px.x + kBesidePx + beside_px, 0}, wide_px / own_m.x,
                     "all-" + id);
    plan.size_px.x += kBesidePx + beside_px + wide_px;
  }
  plan.all->elsewhere = of.main;
  return plan;
}

void draw_clips(svg::Writer& out, const FramedPlan& of) {
  if (!of.all) return;
  out.open("defs");
  for (const Frame* frame : {&of.main, &*of.all}) {
    const Point2 size = frame->px_per_m * (frame->world.max - frame->world.min);
    out.open("clipPath", {{"id", frame->clip}});
    out.element("rect", {{"x", svg::px(frame->origin_px.x)},
                         {"y", svg::px(frame->origin_px.y)},
                         {"width", svg::px(size.x)},
                         {"height", svg::px(size.y)}});
    out.close("clipPath");
  }
  out.close("defs");
}

int draw_framed(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const FramedPlan& of, Signs& signs, const Underlay* underlay) {
  int left_out = draw_storey(wording, out, site, storey, of.main, signs, underlay);
  if (site.north_deg) draw_north(wording, out, north_box(site, storey, of.main), *site.north_deg);
  if (!of.all) return left_out;
  const Frame& all = *of.all;
  left_out += draw_storey(wording, out, site, storey, all, signs, underlay);
  const Point2 size = all.px_per_m * (all.world.max - all.world.min);
  draw_frame(out, {all.origin_px, all.origin_px + size}, kFaintInk);
  const Box2 shown{all.at({of.main.world.min.x, of.main.world.max.y}),
                   all.at({of.main.world.max.x, of.main.world.min.y})};
  out.element("rect", {{"x", svg::px(shown.min.x)},
                       {"y", svg::px(shown.min.y)},
                       {"width", svg::px(shown.max.x - shown.min.x)},
                       {"height", svg::px(shown.max.y - shown.min.y)},
                       {"fill", "none"},
                       {"stroke", kInk},
                       {"stroke-width", "1.4"},
                       {"stroke-dasharray", "5 3"}});
  // Below the large plan the title stands on the right of the small one, where there is room.
  const bool below = all.origin_px.y > of.main.origin_px.y;
  const double main_px = of.main.px_per_m * (of.main.world.max.x - of.main.world.min.x);
  const double beside_px = below ? main_px - size.x - 10 : 0;
  const bool on_right = beside_px >= kLeastTitlePx;
  Point2 title = all.origin_px + (on_right ? Point2{size.x + 10, 11} : Point2{0, size.y + 11});
  const double room_px = on_right ? beside_px : std::max(40.0, size.x);
  for (const std::string& line : lines_within(wording.say("sign.all_of_it"), kTitleLettering, room_px)) {
    out.text(title, line,
             {{"fill", kTitleLettering.colour}, {"font-size", svg::px(kTitleLettering.font_px)}});
    title.y += 1.15 * kTitleLettering.font_px;
  }
  return left_out;
}

}  // namespace linkmargin::plan
