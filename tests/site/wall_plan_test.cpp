#include "linkmargin/site/wall_plan.hpp"

#include "fixtures/sound_site.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>

using namespace linkmargin;

namespace {

std::string text(const WallPiece& piece) {
  const auto point = [](Point2 p) {
    return "(" + std::to_string(p.x).substr(0, 5) + "," + std::to_string(p.y).substr(0, 5) + ")";
  };
  const std::string what = piece.traced.empty() ? piece.first + "|" + piece.second : piece.traced;
  return what + " " + point(piece.line.a) + point(piece.line.b) + " " +
         (piece.construction ? piece.construction->material : "-");
}

std::vector<std::string> texts(const std::vector<WallPiece>& plan) {
  std::vector<std::string> lines;
  for (const WallPiece& piece : plan) lines.push_back(text(piece));
  return lines;
}

Storey bare_storey(std::vector<Room> rooms) {
  Storey storey = site_test::storey("ground", 0, 2.5);
  storey.rooms = std::move(rooms);
  return storey;
}

double total_length(const std::vector<WallPiece>& plan, const std::string& first, const std::string& second) {
  double sum = 0;
  for (const WallPiece& piece : plan) {
    if (piece.first == first && piece.second == second) sum += length(piece.line);
  }
  return sum;
}

}  // namespace

TEST_CASE("the plan of the sound site, piece by piece") {
  const Site site = site_test::sound_site();
  const std::vector<std::string> expected{"shop|outside (0.000,0.000)(6.000,0.000) brick",
                                          "shop|workshop (6.000,0.000)(6.000,4.000) gable",
                                          "shop|hall (6.000,4.000)(0.000,4.000) -",
                                          "shop|outside (0.000,4.000)(0.000,0.000) brick",
                                          "workshop|outside (6.000,0.000)(12.00,0.000) brick",
                                          "workshop|outside (12.00,0.000)(12.00,8.000) brick",
                                          "workshop|outside (12.00,8.000)(6.000,8.000) brick",
                                          "workshop|hall (6.000,8.000)(6.000,4.000) board",
                                          "hall|outside (6.000,8.000)(0.000,8.000) brick",
                                          "hall|outside (0.000,8.000)(0.000,4.000) brick",
                                          "yard wall (12.00,8.000)(18.00,8.000) brick"};
  const auto plan = wall_plan(site.storeys[0]);
  CHECK(texts(plan) == expected);
  for (const WallPiece& piece : plan) CHECK(piece.height_m == (piece.traced.empty() ? 2.6 : 1.8));
  CHECK(wall_plan(Storey{}).empty());
}

TEST_CASE("every edge stands once: lengths of inner and outer walls of a block of rooms") {
  const Site site = site_test::block(7, 5);
  double inner_m = 0, outer_m = 0;
  std::size_t rooms_pieces = 0;
  for (const WallPiece& piece : wall_plan(site.storeys[0])) {
    if (!piece.traced.empty()) continue;
    ++rooms_pieces;
    (piece.second == kOutside ? outer_m : inner_m) += length(piece.line);
  }
  // 7 x 5 rooms of 3 m x 4 m: 6 columns of 20 m and 4 rows of 21 m inside; 2 x 20 m and 2 x 21 m outside.
  CHECK(inner_m == 6 * 20 + 4 * 21);
  CHECK(outer_m == 2 * 20 + 2 * 21);
  CHECK(rooms_pieces == 6 * 5 + 4 * 7 + 2 * 5 + 2 * 7);
}

TEST_CASE(
    "edges that are shared in part split; either way round and in any order of rooms the walls are the "
    "same") {
  const std::vector<Room> rooms{
      {"a", rectangle({0, 0}, 4, 6)}, {"b", rectangle({4, 1}, 3, 2)}, {"c", rectangle({4, 3}, 3, 5)}};
  auto reference = wall_plan(bare_storey(rooms));
  CHECK(total_length(reference, "a", "b") == 2);
  CHECK(total_length(reference, "a", "c") == 3);
  CHECK(total_length(reference, "b", "c") == 3);
  CHECK(total_length(reference, "a", "outside") == 4 + 6 + 4 + 1);
  CHECK(total_length(reference, "b", "outside") == 3 + 2);
  CHECK(total_length(reference, "c", "outside") == 5 + 3 + 2);

  const auto walls = [](const std::vector<WallPiece>& plan) {
    std::multimap<std::pair<Point2, Point2>, std::pair<std::string, std::string>> all;
    for (const WallPiece& piece : plan) {
      const auto [a, b] = ordered(piece.line);
      all.emplace(std::pair{a, b}, std::minmax(piece.first, piece.second));
    }
    return all;
  };
  std::vector<std::size_t> order{0, 1, 2};
  do {
    for (const bool turned : {false, true}) {
      std::vector<Room> others;
      for (const std::size_t i : order) {
        others.push_back(rooms[i]);
        if (turned) std::ranges::reverse(others.back().corners);
      }
      CHECK(walls(wall_plan(bare_storey(others))) == walls(reference));
    }
  } while (std::ranges::next_permutation(order).found);
}

TEST_CASE("collinear pieces of one pair are one wall, across corners that only others need") {
  // A corner of `far` touches the outer wall of `a`; `a` has a corner of its own in the middle of its lower
  // edge.
  const Storey storey =
      bare_storey({{"a", {{2, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}}, {"far", {{2, 4}, {4, 7}, {0, 7}}}});
  const auto plan = wall_plan(storey);
  const auto lines = texts(plan);
  CHECK(std::ranges::count(lines, "a|outside (0.000,0.000)(4.000,0.000) heavy") == 1);
  CHECK(std::ranges::count(lines, "a|outside (4.000,4.000)(0.000,4.000) heavy") == 1);
  CHECK(plan.size() == 7);
}

TEST_CASE("corners typed up to a centimetre apart are one; shared pieces get the same ends") {
  const Storey storey =
      bare_storey({{"a", {{0, 0}, {4, 0}, {4, 4}, {0, 4}}},
                   {"b", {snapped(Point2{4.008, 1}), {8, 1}, {8, 6}, snapped(Point2{4.008, 6})}},
                   {"c", {snapped(Point2{-0.005, 4.007}), {4, 4.003}, {4, 9}, {0, 9}}}});
  const auto plan = wall_plan(storey);
  CHECK(std::abs(total_length(plan, "a", "b") - 3) <= 0.01);
  CHECK(std::abs(total_length(plan, "a", "c") - 4) <= 0.01);
  CHECK(std::abs(total_length(plan, "b", "c") - 2) <= 0.01);
  CHECK(std::abs(total_length(plan, "a", "outside") - 9) <= 0.02);
  // No two pieces cross, and every end is the end of at least two: nothing leaks.
  std::map<Point2, int> ends;
  for (const WallPiece& piece : plan) {
    ++ends[piece.line.a];
    ++ends[piece.line.b];
  }
  for (const auto& [point, count] : ends) CHECK(count >= 2);
}

TEST_CASE("corners further apart are two walls") {
  const auto plan =
      wall_plan(bare_storey({{"a", rectangle({0, 0}, 4, 4)}, {"b", rectangle({4.02, 0}, 4, 4)}}));
  CHECK(total_length(plan, "a", "b") == 0);
  CHECK(plan.size() == 8);
}

TEST_CASE("slanting rooms whose shared wall has a corner in it") {
  const Point2 on = snapped(Point2{1.1, 3.3});
  const auto plan = wall_plan(bare_storey(
      {{"left", {{0, 0}, {2, 6}, {-4, 6}}}, {"low", {{0, 0}, {6, 0}, on}}, {"high", {on, {6, 0}, {2, 6}}}}));
  CHECK(std::abs(total_length(plan, "left", "low") - distance({0, 0}, on)) <= 1e-9);
  CHECK(std::abs(total_length(plan, "left", "high") - distance(on, {2, 6})) <= 1e-9);
  CHECK(total_length(plan, "low", "high") == distance(on, {6, 0}));
}

TEST_CASE("where an opening sits") {
  Site site = site_test::sound_site();
  Storey& storey = site.storeys[0];
  const auto plan = wall_plan(storey);
  const auto place = [&](Point2 at, double width_m, const char* first, const char* second) {
    storey.openings[0].at = at;
    storey.openings[0].width_m = width_m;
    storey.openings[0].first = first;
    storey.openings[0].second = second;
    return locate_opening(plan, storey, 0);
  };
  const auto door = place({3, 0.1}, 1.5, "outside", "shop");
  REQUIRE(door);
  CHECK(door->piece == 0);
  CHECK(door->from == 2.25 / 6);
  CHECK(door->to == 3.75 / 6);
  REQUIRE(place({6, 4.5}, 1, "hall", "workshop"));  // from the wall's very end
  CHECK(place({6, 4.5}, 1, "hall", "workshop")->to == 1);
  CHECK(place({6, 4.5}, 1.002, "hall", "workshop"));  // a millimetre over is taken
  CHECK_FALSE(place({6, 4.5}, 1.004, "hall", "workshop"));
  CHECK_FALSE(place({3, 0.16}, 1, "shop", "outside"));  // too far off
  CHECK_FALSE(place({3, 0}, 1, "shop", "hall"));        // not that wall
  CHECK_FALSE(place({3, 0}, 6.1, "shop", "outside"));   // wider than the wall
  REQUIRE(place({12, 8}, 0, "workshop", "outside"));    // a corner: the first of two as near
  CHECK(place({12, 8}, 0, "workshop", "outside")->piece == 5);
  const auto gate = locate_opening(plan, storey, 1);
  REQUIRE(gate);
  CHECK(gate->piece == 10);
  CHECK(gate->from == 0.25);
  CHECK(gate->to == 0.75);
}
