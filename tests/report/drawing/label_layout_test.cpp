#include "linkmargin/report/drawing/label_layout.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

const Box2 kSheet{{0, 0}, {600, 400}};

bool inside(const Box2& box) {
  return box.min.x >= kSheet.min.x && box.max.x <= kSheet.max.x && box.min.y >= kSheet.min.y &&
         box.max.y <= kSheet.max.y;
}

}  // namespace

TEST_CASE("a lone name stands right of its anchor, without a leader") {
  LabelLayout layout(kSheet);
  const auto label = layout.place({.lines = {"hall"}, .anchor = {100, 100}, .allowed = {}});
  REQUIRE(label);
  CHECK(label->box.min.x > 100);
  CHECK(!label->leader);
}

TEST_CASE("at the right edge it turns to the left; where nothing is free there is no place") {
  LabelLayout layout(kSheet);
  const auto label = layout.place({.lines = {"hall smoke"}, .anchor = {595, 200}, .allowed = {}});
  REQUIRE(label);
  CHECK(inside(label->box));
  layout.block(kSheet);
  CHECK(!layout.place({.lines = {"hall"}, .anchor = {100, 100}, .allowed = {}}));
}

TEST_CASE("five hundred names in a crowd: none overlaps another or leaves the sheet, none is lost silently") {
  LabelLayout layout(kSheet);
  const RandomStream random(7, 0);
  std::vector<Box2> symbols;
  std::vector<Point2> anchors;
  for (std::uint64_t i = 0; i < 500; ++i) {
    const Point2 at{600 * random.uniform(2 * i), 400 * random.uniform(2 * i + 1)};
    anchors.push_back(at);
    symbols.push_back({at - Point2{4, 4}, at + Point2{4, 4}});
    layout.block(symbols.back());
  }
  std::vector<Box2> placed;
  int lost = 0;
  for (const Point2 at : anchors) {
    const auto label = layout.place({.lines = {"contact"}, .font_px = 9, .anchor = at, .allowed = {}});
    label ? placed.push_back(label->box) : void(++lost);
  }
  CHECK(placed.size() + static_cast<std::size_t>(lost) == 500);
  CHECK(placed.size() > 50);
  for (std::size_t i = 0; i < placed.size(); ++i) {
    CHECK(inside(placed[i]));
    for (std::size_t k = 0; k < i; ++k) CHECK(!overlap(placed[i], placed[k]));
    for (const Box2& symbol : symbols) CHECK(!overlap(placed[i], symbol));
  }
}

TEST_CASE("a name far from its anchor has a leader that crosses no other name") {
  LabelLayout layout(kSheet);
  layout.block({{60, 60}, {300, 140}});
  const auto label = layout.place({.lines = {"hall"}, .anchor = {100, 100}, .reach_px = 300, .allowed = {}});
  REQUIRE(label);
  REQUIRE(label->leader);
  CHECK(label->leader->a == Point2{100, 100});
  CHECK(touches(*label->leader, label->box));
}

TEST_CASE("a line touches a box it crosses, ends in or runs along, and no other") {
  const Box2 box{{0, 0}, {10, 10}};
  CHECK(touches({{-5, 5}, {15, 5}}, box));
  CHECK(touches({{-5, 5}, {5, 5}}, box));
  CHECK(touches({{2, 2}, {3, 3}}, box));
  CHECK(touches({{-5, 10}, {15, 10}}, box));
  CHECK(!touches({{-5, 11}, {15, 11}}, box));
  CHECK(!touches({{-5, 0}, {0, -6}}, box));
}
