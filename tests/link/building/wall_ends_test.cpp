#include "linkmargin/link/building/wall_ends.hpp"

#include "linkmargin/link/path_loss.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;
using fixture::traced;

namespace {

using Comes = WallEnd::Comes;

/// A hall of 30 m x 30 m with some walls in it.
Site hall(std::vector<TracedWall> walls) {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.materials["tin"] = fixture::measured("tin", 60);
  site.storeys[0].outer_wall = {"board", {}};
  site.storeys[0].rooms = {{"hall", rectangle({0, 0}, 30, 30)}};
  site.storeys[0].walls = std::move(walls);
  return site;
}

/// A wall along x = 10 with a gap: two walls, or one with an opening as high as it.
Site gapped(const std::string& material, double from_m, double to_m, bool as_two_walls) {
  if (as_two_walls)
    return hall(
        {traced("one", {10, 0}, {10, from_m}, material), traced("two", {10, to_m}, {10, 30}, material)});
  Site site = hall({traced("one", {10, 0}, {10, 30}, material)});
  Opening opening;
  opening.name = "opening";
  opening.wall = "one";
  opening.at = {10, (from_m + to_m) / 2};
  opening.width_m = to_m - from_m;
  opening.height_m = site.storeys[0].height_m;
  opening.leaf = {kNoMaterial, {}};
  site.storeys[0].openings = {opening};
  return site;
}

WallEnd end_of_first(const std::vector<TracedWall>& walls) {
  Storey storey = fixture::storey("ground", 0, 2.5);
  storey.walls = walls;
  return wall_end(wall_plan(storey), 0, true);
}

double eighth(double value_m) {
  return std::nearbyint(value_m * 8) / 8;
}

}  // namespace

TEST_CASE("what an end comes to: a joint, an end that faces it, a wall's face, or air") {
  const TracedWall first = traced("first", {0, 0}, {4, 0});
  CHECK(end_of_first({first}).comes == Comes::to_air);
  CHECK(end_of_first({first}).at == Point2{4 + kShadeReachM, 0});
  CHECK(end_of_first({first, traced("across", {4.1, -1}, {4.1, 1})}).comes == Comes::to_joint);
  const WallEnd face = end_of_first({first, traced("across", {5, -1}, {5, 1})});
  CHECK(face.comes == Comes::to_face);
  CHECK(face.at == Point2{5, 0});
  CHECK(end_of_first({first, traced("beside", {5, 1}, {5, 2})}).comes == Comes::to_air);
  CHECK(end_of_first({first, traced("far", {7.5, -1}, {7.5, 1})}).comes == Comes::to_air);
  const WallEnd opposite = end_of_first({first, traced("second", {9, 0.1}, {5, 0.1})});
  CHECK(opposite.comes == Comes::to_opposite);
  CHECK(opposite.other == 1);
  CHECK(opposite.other_at_b);
  CHECK(opposite.at == Point2{5, 0.1});
  CHECK(end_of_first({first, traced("far", {10.5, 0}, {14, 0})}).comes == Comes::to_air);
  CHECK(end_of_first({first, traced("aside", {5, 0.2}, {9, 0.2})}).comes == Comes::to_air);
}

TEST_CASE("of what stands in an end's line the nearest counts, and an end that is joined faces nothing") {
  const TracedWall first = traced("first", {0, 0}, {4, 0}), second = traced("second", {6, 0}, {9, 0});
  CHECK(end_of_first({first, second, traced("between", {5, -1}, {5, 1})}).at == Point2{5, 0});
  const WallEnd joined = end_of_first({first, second, traced("across", {6, -1}, {6, 1})});
  CHECK(joined.comes == Comes::to_face);
  CHECK(joined.at == Point2{6, 0});
}

TEST_CASE("between two walls in line a gap of a metre lets through what an opening of a metre does") {
  const Point3 a{5, 5, 1.5}, b{15, 5, 1.5};
  const double two_db = path_loss(Scene(gapped("tin", 12.5, 13.5, true), Doors::armed), a, b).path_loss_db;
  const double one_db = path_loss(Scene(gapped("tin", 12.5, 13.5, false), Doors::armed), a, b).path_loss_db;
  CHECK(std::abs(two_db - one_db) <= 0.05);
  CHECK(two_db > 80);
}

TEST_CASE("two walls with a gap and one with an opening give the same, for 200 random gaps") {
  const RandomStream random(5, 1);
  const char* const materials[] = {"tin", "heavy", "board", "steel"};
  double worst_db = 0;
  for (std::uint64_t i = 0; i < 200; ++i) {
    const auto within = [&](int k, double from, double to) {
      return from + (to - from) * random.uniform(16 * i + static_cast<std::uint64_t>(k));
    };
    const double from_m = eighth(within(0, 2, 24)), to_m = from_m + eighth(within(1, 0.25, 3));
    const std::string material = materials[static_cast<std::size_t>(within(2, 0, 4))];
    const Scene two(gapped(material, from_m, to_m, true), Doors::armed);
    const Scene one(gapped(material, from_m, to_m, false), Doors::armed);
    for (int k = 0; k < 2; ++k) {
      const Point3 a{within(4 + 6 * k, 1, 9), within(5 + 6 * k, 1, 29), within(6 + 6 * k, 0.3, 2.2)};
      const Point3 b{within(7 + 6 * k, k == 0 ? 11 : 1, 29), within(8 + 6 * k, 1, 29), 1.25};
      worst_db =
          std::max(worst_db, std::abs(path_loss(two, a, b).path_loss_db - path_loss(one, a, b).path_loss_db));
    }
  }
  CHECK(worst_db <= 0.5);
}

TEST_CASE("of three walls in line both gaps count as two openings of one wall do") {
  Site three =
      hall({traced("a", {10, 0}, {10, 8}), traced("b", {10, 9}, {10, 14}), traced("c", {10, 15}, {10, 30})});
  Site one = gapped("tin", 8, 9, false);
  Opening second = one.storeys[0].openings[0];
  second.name = "second";
  second.at = {10, 14.5};
  one.storeys[0].openings.push_back(second);
  const Scene in_three(three, Doors::armed), in_one(one, Doors::armed);
  for (double y = 1; y < 29; y += 0.7) {
    CHECK(std::abs(path_loss(in_three, {4, 11, 1}, {17, y, 1}).path_loss_db -
                   path_loss(in_one, {4, 11, 1}, {17, y, 1}).path_loss_db) <= 0.05);
  }
}

TEST_CASE("the air beside a free end ends at the wall that stands in its line") {
  const Scene scene(hall({traced("divide", {10, 5}, {10, 20}), traced("across", {2, 20.5}, {28, 20.5})}),
                    Doors::armed);
  const auto aperture = std::ranges::find_if(scene.apertures(), [](const Aperture& of) {
    return of.base.a == Point2{10, 20};
  });
  REQUIRE(aperture != scene.apertures().end());
  CHECK(aperture->name == piece_of(fixture::traced_wall("divide"), PartPiece::end));
  CHECK(aperture->base.b == Point2{10, 20.5});
  CHECK(aperture->edge_b);
  CHECK_FALSE(aperture->open_b);
}

TEST_CASE("between walls of two kinds what the gap keeps back is kept back by both alike") {
  for (const bool swapped : {false, true}) {
    const std::string low = swapped ? "tin" : "board", high = swapped ? "board" : "tin";
    const Site site =
        hall({traced("low", {10, 0}, {10, 14.875}, low), traced("high", {10, 15.125}, {10, 30}, high)});
    const Scene scene(site, Doors::armed);
    const double through_db = path_loss(scene, {5, 15, 1.5}, {15, 15, 1.5}).path_loss_db;
    Site turned =
        hall({traced("high", {10, 15.125}, {10, 30}, high), traced("low", {10, 0}, {10, 14.875}, low)});
    CHECK(path_loss(Scene(turned, Doors::armed), {5, 15, 1.5}, {15, 15, 1.5}).path_loss_db ==
          doctest::Approx(through_db).epsilon(1e-12));
    const double all_board_db =
        path_loss(Scene(gapped("board", 14.875, 15.125, true), Doors::armed), {5, 15, 1.5}, {15, 15, 1.5})
            .path_loss_db;
    const double all_tin_db =
        path_loss(Scene(gapped("tin", 14.875, 15.125, true), Doors::armed), {5, 15, 1.5}, {15, 15, 1.5})
            .path_loss_db;
    CHECK(through_db > std::min(all_board_db, all_tin_db));
    CHECK(through_db < std::max(all_board_db, all_tin_db));
  }
}

TEST_CASE("the air between two walls costs what the mean of their amplitudes does") {
  Site site = hall({traced("low", {10, 0}, {10, 14}, "twenty"), traced("high", {10, 15}, {10, 30}, "forty")});
  site.materials["twenty"] = fixture::measured("twenty", 20);
  site.materials["forty"] = fixture::measured("forty", 40);
  const Scene scene(site, Doors::armed);
  REQUIRE(scene.apertures().size() == 1);
  // 20 dB let a tenth of the amplitude through, 40 dB a hundredth.
  CHECK(std::abs(scene.apertures()[0].wall_db + 20 * std::log10((0.1 + 0.01) / 2)) <= 1e-9);
}
