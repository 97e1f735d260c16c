#include "linkmargin/prediction/reach.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

const Mobility kRadius{Mobility::Radius{2}};
const Mobility kAlong{Mobility::Along{{{0, 0}, {3, 0}, {3, 4}}}};
const Mobility kWithin{Mobility::Within{{{0, 0}, {6, 0}, {6, 8}, {0, 8}}}};
const Mobility kRoom{Mobility::WithinRoom{"hall"}};

Device movable(std::optional<Mobility> mobility) {
  Device device;
  device.place = {1, {1, 1}, 2};
  device.may_move = std::move(mobility);
  return device;
}

}  // namespace

TEST_CASE(
    "how far a radio may go at most: not at all, a radius, across what holds its line or its area, "
    "anywhere") {
  CHECK_FALSE(reach_m({}).has_value());
  CHECK(reach_m(kRadius) == 2);
  CHECK(reach_m(kAlong) == 5);
  CHECK(reach_m(kWithin) == 10);
  CHECK(std::isinf(reach_m(kRoom).value()));
}

TEST_CASE("a place is within reach to the slack, on the same storey") {
  Site site;
  site.storeys.resize(2);
  site.storeys[1].rooms.resize(2);
  site.storeys[1].rooms[0].name = "store";
  site.storeys[1].rooms[0].corners = {{10, 0}, {14, 0}, {14, 4}, {10, 4}};
  site.storeys[1].rooms[1].name = "hall";
  site.storeys[1].rooms[1].corners = {{0, 0}, {10, 0}, {10, 4}, {0, 4}};
  const auto goes = [&](const std::optional<Mobility>& mobility, Point2 at, double height_m = 2) {
    return reaches(site, movable(mobility), {1, at, height_m});
  };
  CHECK(goes(kRadius, {3, 1}));
  CHECK(goes(kRadius, {3.04, 1}));
  CHECK_FALSE(goes(kRadius, {3.06, 1}));
  CHECK_FALSE(goes(kRadius, {2.8, 1}, 3.2));  // up counts too
  CHECK(goes(kAlong, {2, 0.04}));
  CHECK(goes(kAlong, {3, 3.5}));
  CHECK_FALSE(goes(kAlong, {2, 0.06}));
  CHECK(goes(kWithin, {5, 5}));
  CHECK(goes(kWithin, {6.04, 5}));
  CHECK_FALSE(goes(kWithin, {6.06, 5}));
  CHECK(goes(kRoom, {9, 3}));
  CHECK(goes(kRoom, {10.04, 3}));
  CHECK_FALSE(goes(kRoom, {12, 3}));  // in the store
  CHECK(goes({}, {90, 90}));
  CHECK(reaches(site, movable({}), {0, {1, 1}, 2}));
  CHECK_FALSE(reaches(site, movable(kRoom), {0, {1, 1}, 2}));
}
