#include "linkmargin/report/plan/framed_plan.hpp"

#include "fixtures/english.hpp"
#include "fixtures/site_fixture.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;
using namespace linkmargin::plan;

namespace {

/// Two rooms of 8 x 4 m, and a shed far up the yard with a device in it.
Site yard_site() {
  Site site = fixture::two_rooms();
  Room shed;
  shed.name = "shed";
  shed.corners = {{30, 30}, {34, 30}, {34, 33}, {30, 33}};
  site.storeys[0].rooms.push_back(shed);
  Device far = site.devices.front();
  far.name = "shed contact";
  far.place.at = {32, 31};
  site.devices.push_back(far);
  return site;
}

const Box2 kAll{{-1, -1}, {35, 34}};

}  // namespace

TEST_CASE("the building with the hub is shown large, and all of the yard beside it") {
  const Site site = yard_site();
  const Framing of = framing(site, kAll, PlanFraming::building);
  CHECK(of.all_beside);
  CHECK(of.main.holds({0, 0}));
  CHECK(of.main.holds({8, 4}));
  CHECK_FALSE(of.main.holds({30, 30}));
  const Framing all = framing(site, kAll, PlanFraming::all);
  CHECK_FALSE(all.all_beside);
  CHECK(all.main.min == kAll.min);
  CHECK(all.main.max == kAll.max);
}

TEST_CASE("a hub decides, whatever is larger") {
  Site site = yard_site();
  site.storeys[0].rooms.back().corners = {{20, 20}, {34, 20}, {34, 33}, {20, 33}};
  CHECK(framing(site, kAll, PlanFraming::building).main.holds({1, 1}));
  for (Hub& hub : site.hubs) hub.place.at = {22, 22};
  const Framing of = framing(site, kAll, PlanFraming::building);
  CHECK(of.main.holds({22, 22}));
  CHECK_FALSE(of.main.holds({1, 1}));
}

TEST_CASE("where the building takes up most of it, all is shown at once") {
  const Site site = fixture::two_rooms();
  CHECK_FALSE(framing(site, {{-1, -1}, {9, 5}}, PlanFraming::building).all_beside);
  Site empty = site;
  empty.storeys[0].rooms.clear();
  CHECK_FALSE(framing(empty, kAll, PlanFraming::building).all_beside);
}

TEST_CASE("both plans fit, the small one no higher than the large one, and each radio stands on one") {
  const Site site = yard_site();
  const Framing of = framing(site, kAll, PlanFraming::building);
  for (const Point2 most : {Point2{960, 820}, Point2{300, 200}, Point2{2000, 90}}) {
    const FramedPlan plan = framed_plan(of, {10, 20}, fitting_px_per_m(of, most), "x");
    REQUIRE(plan.all);
    CHECK(plan.size_px.x <= most.x + 1e-9);
    CHECK(plan.size_px.y <= most.y + 1e-9);
    CHECK(plan.all->px_per_m * (kAll.max.y - kAll.min.y) <= plan.size_px.y + 1e-9);
    CHECK(plan.all->origin_px.x >= plan.main.at(of.main.max).x + kBesidePx - 1e-9);
    const Framing best = arranged(of, most);
    CHECK(fitting_px_per_m(best, most) >= fitting_px_per_m(of, most));
    const FramedPlan other = framed_plan(best, {10, 20}, fitting_px_per_m(best, most), "y");
    CHECK(other.size_px.x <= most.x + 1e-9);
    CHECK(other.size_px.y <= most.y + 1e-9);
    CHECK(best.below == (other.all->origin_px.y > other.main.at(of.main.min).y));
    for (const Device& device : site.devices) {
      CHECK(plan.main.holds(device.place.at) != plan.all->holds(device.place.at));
      CHECK(&plan.frame_of(device.place.at) == (device.name == "shed contact" ? &*plan.all : &plan.main));
    }
  }
}

TEST_CASE("the small plan is larger where more radios are on it than on the building") {
  Site site = yard_site();
  const double few = framing(site, kAll, PlanFraming::building).wide_m();
  for (Device& device : site.devices) device.place.at = {32, 31};
  CHECK(framing(site, kAll, PlanFraming::building).wide_m() > few);
  const Box2 wide{{-1, -1}, {60, 34}};
  const Framing off = framing(site, wide, PlanFraming::building);
  const Framing on = framing(yard_site(), wide, PlanFraming::building);
  CHECK(off.wide_m() > on.wide_m());
}

TEST_CASE("names stand once, on the plan that shows the thing") {
  const Site site = yard_site();
  const Framing of = framing(site, kAll, PlanFraming::building);
  const FramedPlan plan = framed_plan(of, {0, 0}, 60, "x");
  svg::Writer out;
  Signs signs;
  const Wording wording(fixture::english());
  CHECK(draw_framed(wording, out, site, 0, plan, signs) == 0);
  const std::string svg = out.take();
  for (const Device& device : site.devices) {
    CAPTURE(device.name);
    CHECK(count(svg, ">" + device.name + "</text>") == 1);
  }
  CHECK(count(svg, ">shed</text>") == 1);
  CHECK(count(svg, "url(#main-x)") == 1);
  CHECK(count(svg, "url(#all-x)") == 1);
}
