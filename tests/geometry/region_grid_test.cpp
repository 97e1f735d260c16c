#include "linkmargin/geometry/region_grid.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <utility>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::size_t kPlenty = 200'000;

/// Tiles that lie side by side, and the walls round them: each once, ending where another begins.
struct House {
  std::vector<Polygon2> tiles;
  std::vector<Segment2> walls;

  /// kOut for a point outside every tile.
  std::size_t tile_of(Point2 p) const {
    for (std::size_t i = 0; i < tiles.size(); ++i) {
      if (contains(tiles[i], p)) return i;
    }
    return kOut;
  }
  double to_walls_m(Point2 p) const {
    double nearest_m = 1e9;
    for (const Segment2 wall : walls) nearest_m = std::min(nearest_m, distance_to_segment(p, wall));
    return nearest_m;
  }
  Box2 box() const {
    Box2 all{{1e9, 1e9}, {-1e9, -1e9}};
    for (const Segment2 wall : walls) {
      for (const Point2 p : {wall.a, wall.b}) {
        all.min = {std::min(all.min.x, p.x), std::min(all.min.y, p.y)};
        all.max = {std::max(all.max.x, p.x), std::max(all.max.y, p.y)};
      }
    }
    return all;
  }
  RegionGrid grid(double pitch_m) const { return {NodeLayout::over(box(), pitch_m, kPlenty), walls}; }

  static constexpr std::size_t kOut = 1'000'000;
};

/// A rectangle cut in two again and again; all corners on whole steps from the origin.
class RandomTiling {
 public:
  RandomTiling(std::uint64_t seed, double step_m) : stream_(seed, 0x711E5), step_m_(step_m) {}

  House make() {
    const int left = steps(-20, 20), low = steps(-20, 20);
    cut(left, low, left + steps(6, 14), low + steps(5, 11));
    std::set<std::pair<int, int>> corners;
    for (const auto& [a, b, c, d] : tiles_) {
      corners.insert({{a, b}, {c, b}, {c, d}, {a, d}});
      house_.tiles.push_back({at(a, b), at(c, b), at(c, d), at(a, d)});
    }
    std::set<std::vector<int>> walls;
    for (const auto& [a, b, c, d] : tiles_) {
      for (const int y : {b, d}) add_line(corners, walls, true, y, a, c);
      for (const int x : {a, c}) add_line(corners, walls, false, x, b, d);
    }
    for (const auto& w : walls) house_.walls.push_back({at(w[0], w[1]), at(w[2], w[3])});
    return house_;
  }

 private:
  double uniform(double from, double to) { return from + (to - from) * stream_.uniform(draw_++); }
  int steps(double from_m, double to_m) {
    return static_cast<int>(std::lround(uniform(from_m, to_m) / step_m_));
  }
  Point2 at(int i, int j) const { return snapped(Point2{i * step_m_, j * step_m_}); }

  void cut(int a, int b, int c, int d) {
    const int least = static_cast<int>(std::ceil(0.9 / step_m_));
    const bool along_x = c - a > d - b;
    const int size = along_x ? c - a : d - b;
    if (size < 2 * least || (size * step_m_ < 4 && uniform(0, 1) < 0.5)) {
      tiles_.push_back({a, b, c, d});
      return;
    }
    const int middle = (along_x ? a : b) + least + static_cast<int>(uniform(0, 1) * (size - 2 * least));
    cut(a, b, along_x ? middle : c, along_x ? d : middle);
    cut(along_x ? middle : a, along_x ? b : middle, c, d);
  }

  /// One edge of a tile, in pieces between the corners that lie on it.
  static void add_line(const std::set<std::pair<int, int>>& corners, std::set<std::vector<int>>& walls,
                       bool level, int line, int from, int to) {
    int start = from;
    for (int k = from + 1; k <= to; ++k) {
      if (!corners.contains(level ? std::pair(k, line) : std::pair(line, k))) continue;
      walls.insert(level ? std::vector{start, line, k, line} : std::vector{line, start, line, k});
      start = k;
    }
  }

  RandomStream stream_;
  double step_m_;
  std::uint64_t draw_ = 0;
  std::vector<std::array<int, 4>> tiles_;
  House house_;
};

/// A lattice of rooms 2 m wide whose corners have been pushed about.
House slanted_house(std::uint64_t seed, double push_m) {
  constexpr int kColumns = 5, kRows = 4;
  const RandomStream stream(seed, 0x51A);
  std::vector<std::vector<Point2>> corner(kColumns + 1, std::vector<Point2>(kRows + 1));
  std::uint64_t draw = 0;
  for (int i = 0; i <= kColumns; ++i) {
    for (int j = 0; j <= kRows; ++j) {
      const double dx = (2 * stream.uniform(draw++) - 1) * push_m,
                   dy = (2 * stream.uniform(draw++) - 1) * push_m;
      corner[i][j] = snapped(Point2{2.0 * i + dx - 3, 2.0 * j + dy + 7});
    }
  }
  House house;
  for (int i = 0; i <= kColumns; ++i) {
    for (int j = 0; j <= kRows; ++j) {
      if (i < kColumns) house.walls.push_back({corner[i][j], corner[i + 1][j]});
      if (j < kRows) house.walls.push_back({corner[i][j], corner[i][j + 1]});
      if (i < kColumns && j < kRows) {
        house.tiles.push_back({corner[i][j], corner[i + 1][j], corner[i + 1][j + 1], corner[i][j + 1]});
      }
    }
  }
  return house;
}

/// Nodes whose region tells another tile than the one that holds them.
int misplaced(const House& house, const RegionGrid& grid) {
  std::map<std::uint32_t, std::size_t> tile_of_region{{0, House::kOut}};
  std::map<std::size_t, std::uint32_t> region_of_tile{{House::kOut, 0}};
  int wrong = 0;
  for (std::uint32_t node = 0; node < grid.layout().size(); ++node) {
    const std::size_t tile = house.tile_of(grid.layout().at(node));
    const std::uint32_t region = grid.region(node);
    wrong += tile_of_region.emplace(region, tile).first->second == tile ? 0 : 1;
    wrong += region_of_tile.emplace(tile, region).first->second == region ? 0 : 1;
  }
  return wrong;
}

}  // namespace

TEST_CASE("a house of three rooms has three regions beside what lies outside") {
  const std::vector<Segment2> walls{{{0, 0}, {9, 0}}, {{9, 0}, {9, 4}}, {{9, 4}, {0, 4}},
                                    {{0, 4}, {0, 0}}, {{3, 0}, {3, 4}}, {{6, 4}, {6, 0}}};
  const RegionGrid grid(NodeLayout::over({{0, 0}, {9, 4}}, 0.25, kPlenty), walls);
  CHECK(grid.region_count() == 4);
  const auto region_at = [&](Point2 p) { return grid.region(grid.node_of(p).value()); };
  CHECK(region_at({-0.2, 2}) == 0);
  CHECK(region_at({9.2, 4.2}) == 0);
  std::set<std::uint32_t> rooms;
  for (const double x : {1.5, 4.5, 7.5}) {
    rooms.insert(region_at({x, 2}));
    for (const Point2 corner : {Point2{x - 1.45, 0.05}, Point2{x + 1.45, 3.95}}) {
      CHECK(region_at(corner) == region_at({x, 2}));
    }
  }
  CHECK(rooms.size() == 3);
  CHECK_FALSE(rooms.contains(0));
  CHECK(RegionGrid(grid.layout(), {}).region_count() == 1);
}

TEST_CASE("random houses: nodes are of one region just when they are of one room, and 0 lies outside") {
  // Steps of 0.25 m put walls on whole multiples of the pitch; 0.01 and 0.05 m are none of the grid's.
  int houses = 0;
  std::size_t rooms = 0;
  for (const double step_m : {0.01, 0.05, 0.25, 0.125}) {
    for (std::uint64_t seed = 0; seed < 80; ++seed, ++houses) {
      const House house = RandomTiling(seed, step_m).make();
      const RegionGrid grid = house.grid(seed % 2 == 0 ? 0.25 : 0.2);
      CAPTURE(step_m);
      CAPTURE(seed);
      CHECK(misplaced(house, grid) == 0);
      CHECK(grid.region_count() == house.tiles.size() + 1);
      rooms += house.tiles.size();
    }
  }
  MESSAGE(houses << " houses, " << rooms << " rooms");
  CHECK(rooms > 2000);
}

TEST_CASE("walls drawn as whole lines that meet in a T part the rooms as well") {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const House pieces = RandomTiling(seed, seed % 2 == 0 ? 0.05 : 0.25).make();
    House lines = pieces;
    lines.walls.clear();
    for (const Polygon2& tile : lines.tiles) {
      for (const Segment2 edge : edges(tile)) lines.walls.push_back(edge);
    }
    CAPTURE(seed);
    CHECK(misplaced(lines, lines.grid(0.25)) == 0);
  }
}

TEST_CASE("slanted walls part their rooms; only the tip of an acute corner may stand alone") {
  // Nothing is ever joined across a wall. The other way round, a node in a corner of less than a right angle
  // may have all its four neighbours across the walls, and is a region of its own.
  int joined_across = 0, deep_apart = 0, alone = 0, nodes = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const House house = slanted_house(seed, 0.5);
    const RegionGrid grid = house.grid(0.25);
    const NodeLayout& layout = grid.layout();
    std::map<std::uint32_t, std::size_t> tile_of_region{{0, House::kOut}};
    std::map<std::size_t, std::uint32_t> deep_region;
    for (std::uint32_t node = 0; node < layout.size(); ++node) {
      const std::size_t tile = house.tile_of(layout.at(node));
      joined_across += tile_of_region.emplace(grid.region(node), tile).first->second == tile ? 0 : 1;
      if (house.to_walls_m(layout.at(node)) < layout.pitch_m) continue;
      deep_apart += deep_region.emplace(tile, grid.region(node)).first->second == grid.region(node) ? 0 : 1;
      ++nodes;
    }
    alone += static_cast<int>(grid.region_count()) - static_cast<int>(house.tiles.size()) - 1;
  }
  CHECK(nodes > 20'000);
  CHECK(joined_across == 0);
  CHECK(deep_apart == 0);
  MESSAGE("1200 slanted rooms, regions too many: " << alone);
  CHECK(alone <= 40);
}

TEST_CASE("a gap as wide as the pitch joins what a whole wall parts") {
  for (int i = 0; i < 40; ++i) {
    const double at = 1 + 0.05 * i, end = at + 0.26;
    std::vector<Segment2> walls{{{0, 0}, {8, 0}}, {{8, 0}, {8, 4}}, {{8, 4}, {0, 4}}, {{0, 4}, {0, 0}}};
    walls.push_back({snapped(Point2{4, 0}), snapped(Point2{4.3, at})});
    walls.push_back({snapped(Point2{4.3, end}), snapped(Point2{4, 4})});
    const NodeLayout layout = NodeLayout::over({{0, 0}, {8, 4}}, 0.25, kPlenty);
    const RegionGrid open(layout, walls);
    CHECK(open.region_count() == 2);
    CHECK(open.region(open.node_of({1, 1}).value()) == open.region(open.node_of({7, 1}).value()));
    walls.push_back({walls[4].b, walls[5].a});
    const RegionGrid closed(layout, walls);
    CHECK(closed.region_count() == 3);
    CHECK(closed.region(closed.node_of({1, 1}).value()) != closed.region(closed.node_of({7, 1}).value()));
  }
}

TEST_CASE("nodes: as many as asked at most, over the box and one pitch beyond, between the grid's lines") {
  const RandomStream stream(5, 1);
  std::uint64_t draw = 0;
  for (int i = 0; i < 3000; ++i) {
    const auto size = [&] {
      return stream.uniform(draw++) < 0.2 ? 0 : std::pow(10, 3.6 * stream.uniform(draw++) - 1);
    };
    const Point2 low{2000 * stream.uniform(draw++) - 2000, 2000 * stream.uniform(draw++) - 2000};
    const Box2 box{low, {low.x + size(), low.y + size()}};
    const double pitch_m = 0.05 + stream.uniform(draw++);
    const auto most = static_cast<std::size_t>(64 + 20'000 * stream.uniform(draw++));
    const NodeLayout layout = NodeLayout::over(box, pitch_m, most);
    REQUIRE(layout.size() <= most);
    REQUIRE(layout.pitch_m >= pitch_m);
    const Point2 last = layout.at(layout.node(layout.columns - 1, layout.rows - 1));
    const double reach_m = layout.pitch_m - kGridPitchM;
    REQUIRE(std::max(layout.first.x - box.min.x, layout.first.y - box.min.y) <= -reach_m);
    REQUIRE(std::min(last.x - box.max.x, last.y - box.max.y) >= reach_m);
    const double lines = last.x / kGridPitchM;
    REQUIRE(lines - std::floor(lines) == 0.5);
    // Only as wide as it must be: with a pitch a little over a third narrower there would be too many.
    if (layout.pitch_m > pitch_m + 2 * kGridPitchM) {
      const double narrower_m = layout.pitch_m / 1.4;
      const double columns = std::ceil((box.max.x - box.min.x) / narrower_m) + 4;
      REQUIRE(columns * (std::ceil((box.max.y - box.min.y) / narrower_m) + 4) > static_cast<double>(most));
    }
  }
  CHECK(NodeLayout::over({{0, 0}, {10, 10}}, 0.25, 20'000).pitch_m == 0.25);
}

TEST_CASE("the nodes in a box are those in the box, row by row") {
  const NodeLayout layout = NodeLayout::over({{-1, 2}, {5, 6}}, 0.3, kPlenty);
  const RandomStream stream(6, 1);
  for (std::uint64_t i = 0; i < 2000; i += 4) {
    const Point2 low{9 * stream.uniform(i) - 2, 7 * stream.uniform(i + 1) + 1};
    const Box2 box{low, {low.x + 4 * stream.uniform(i + 2), low.y + 4 * stream.uniform(i + 3)}};
    std::vector<std::uint32_t> expected, found;
    for (std::uint32_t node = 0; node < layout.size(); ++node) {
      const Point2 p = layout.at(node);
      if (p.x >= box.min.x && p.x <= box.max.x && p.y >= box.min.y && p.y <= box.max.y)
        expected.push_back(node);
    }
    layout.for_nodes_in(box, [&](std::uint32_t node) { found.push_back(node); });
    REQUIRE(found == expected);
  }
}

TEST_CASE(
    "the node of a point is the nearest that no wall parts from it, and there is one 5 cm from a wall") {
  int points = 0, beside_walls = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const House house =
        seed % 2 == 0 ? RandomTiling(seed, seed % 4 == 0 ? 0.05 : 0.25).make() : slanted_house(seed, 0.3);
    const RegionGrid grid = house.grid(0.25);
    const NodeLayout& layout = grid.layout();
    const RandomStream stream(seed, 0x9017);
    const Box2 box = house.box();
    for (std::uint64_t i = 0; i < 400; i += 2) {
      Point2 p{box.min.x + (box.max.x - box.min.x) * stream.uniform(i),
               box.min.y + (box.max.y - box.min.y) * stream.uniform(i + 1)};
      const Segment2 wall = house.walls[stream.bits(i) % house.walls.size()];
      if (i % 4 == 0) {  // 5 cm from a wall
        const Point2 along = (1 / length(wall)) * (wall.b - wall.a);
        p = at_fraction(wall, stream.uniform(i)) +
            (i % 8 == 0 ? 0.0505 : -0.0505) * Point2{-along.y, along.x};
      } else if (i % 16 == 2) {  // on it
        p = at_fraction(wall, stream.uniform(i));
      }
      const Point2 place = snapped(p);
      const auto node = grid.node_of(p);
      const double to_walls_m = house.to_walls_m(place);
      if (to_walls_m >= 0.05) {
        REQUIRE(node);
        REQUIRE(house.tile_of(layout.at(*node)) == house.tile_of(place));
        beside_walls += to_walls_m < 0.06 ? 1 : 0;
      }
      ++points;
      const double found_m = node ? distance(place, layout.at(*node)) : 1e9;
      if (node) REQUIRE(scan_crossings(house.walls, {place, layout.at(*node)}).empty());
      layout.for_nodes_in({place - Point2{0.25, 0.25}, place + Point2{0.25, 0.25}}, [&](std::uint32_t other) {
        const bool nearer = distance(place, layout.at(other)) < found_m;
        if (nearer) REQUIRE_FALSE(scan_crossings(house.walls, {place, layout.at(other)}).empty());
      });
    }
  }
  MESSAGE(points << " points, " << beside_walls << " of them 5 to 6 cm from a wall");
  CHECK(beside_walls > 2000);
  const RegionGrid grid(NodeLayout::over({{0, 0}, {4, 4}}, 0.25, kPlenty), {});
  CHECK_FALSE(grid.node_of({-2, 1}));
  CHECK_FALSE(grid.node_of({1, 7}));
  CHECK(grid.node_of({-0.3, 4.3}));
}

TEST_CASE("the walls between neighbouring nodes are those that a scan finds, in order, none left out") {
  int meetings = 0, several = 0;
  for (std::uint64_t seed = 0; seed < 16; ++seed) {
    House house =
        seed % 2 == 0 ? RandomTiling(seed, seed % 4 == 0 ? 0.01 : 0.25).make() : slanted_house(seed, 0.5);
    const std::size_t single = house.walls.size();
    for (std::size_t i = 0; i < single; ++i) {  // a second leaf close behind every third wall
      const Point2 aside = snapped(Point2{0.06, 0.09});
      if (i % 3 == 0) house.walls.push_back({house.walls[i].a + aside, house.walls[i].b + aside});
    }
    const RegionGrid grid = house.grid(0.25);
    const NodeLayout& layout = grid.layout();
    const auto check = [&](std::uint32_t node, std::uint32_t next, std::span<const std::uint32_t> found) {
      const Segment2 step{layout.at(node), layout.at(next)};
      std::vector<std::uint32_t> sorted(found.begin(), found.end());
      std::ranges::sort(sorted);
      REQUIRE(sorted == scan_crossings(house.walls, step));
      for (std::size_t i = 1; i < found.size(); ++i) {
        REQUIRE(crossing_fraction(step, house.walls[found[i - 1]]) <=
                crossing_fraction(step, house.walls[found[i]]) + 1e-9);
      }
      meetings += static_cast<int>(found.size());
      several += found.size() > 1 ? 1 : 0;
    };
    for (std::uint32_t node = 0; node < layout.size(); ++node) {
      const int column = layout.column(node), row = layout.row(node);
      if (column + 1 < layout.columns) {
        check(node, node + 1, grid.walls_right(node));
      } else {
        REQUIRE(grid.walls_right(node).empty());
      }
      if (row + 1 < layout.rows) {
        check(node, layout.node(column, row + 1), grid.walls_above(node));
      } else {
        REQUIRE(grid.walls_above(node).empty());
      }
    }
  }
  MESSAGE(meetings << " meetings, " << several << " steps with more than one");
  CHECK(several > 500);
}

TEST_CASE("walls right through nodes, or past them by a hair, are met once") {
  // Where such a wall cuts a line of nodes is rounded to either side of the node; which side counts is not.
  const RandomStream stream(8, 1);
  std::uint64_t draw = 0;
  const auto odd_halves = [&] {
    return kGridPitchM * (std::floor(4000 * stream.uniform(draw++)) - 2000 + 0.5);
  };
  int wrong = 0, met = 0;
  for (int i = 0; i < 2000; ++i) {
    const double width_m = 1 + 29 * stream.uniform(draw++);
    const NodeLayout layout = NodeLayout::over({{100, 200}, {100 + width_m, 203}}, 0.25, kPlenty);
    const auto node = static_cast<std::uint32_t>(stream.bits(draw++) % layout.size());
    const Point2 reach{3 * odd_halves(), 3 * odd_halves()};
    Segment2 wall{layout.at(node) - reach, layout.at(node) + reach};
    if (i % 4 == 1) wall.b.x += kGridPitchM;
    if (i % 4 == 2) wall.a.y -= kGridPitchM;
    const std::vector<Segment2> walls{wall};
    const RegionGrid grid(layout, walls);
    const auto check = [&](std::uint32_t from, std::uint32_t to, std::size_t found) {
      const bool crossed = crosses({layout.at(from), layout.at(to)}, wall);
      wrong += found == (crossed ? 1 : 0) ? 0 : 1;
      met += crossed ? 1 : 0;
    };
    const auto columns = static_cast<std::uint32_t>(layout.columns);
    for (std::uint32_t from = 0; from < layout.size(); ++from) {
      if (layout.column(from) + 1 < layout.columns) check(from, from + 1, grid.walls_right(from).size());
      if (layout.row(from) + 1 < layout.rows) check(from, from + columns, grid.walls_above(from).size());
    }
  }
  CHECK(wrong == 0);
  CHECK(met > 5000);
}

TEST_CASE("a wall is met once in every pitch of its length") {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    const House house = RandomTiling(seed, 0.05).make();
    const RegionGrid grid = house.grid(0.25);
    std::vector<double> met_m(house.walls.size());
    for (std::uint32_t node = 0; node < grid.layout().size(); ++node) {
      for (const std::uint32_t wall : grid.walls_right(node)) met_m[wall] += 0.25;
      for (const std::uint32_t wall : grid.walls_above(node)) met_m[wall] += 0.25;
    }
    for (std::size_t i = 0; i < met_m.size(); ++i) {
      CHECK(std::abs(met_m[i] - length(house.walls[i])) <= 0.25 + 1e-9);
    }
  }
}

TEST_CASE("walls outside the coordinate range are refused by regions") {
  const NodeLayout layout = NodeLayout::over({{0, 0}, {4, 4}}, 0.25, kPlenty);
  for (const double x : {4096.5, std::numeric_limits<double>::quiet_NaN()}) {
    const std::vector<Segment2> walls{{{0, 0}, {x, 1}}};
    CHECK_THROWS_AS(RegionGrid(layout, walls), DomainError);
  }
}
