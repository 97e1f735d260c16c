#include "linkmargin/geometry/projection/projection.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/geometry/projection/panel_projection.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

/// Draws that often fall on the same coordinates: on a lattice of quarter metres, or of the coordinate grid.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : stream_(seed, 0x5AD0) {}
  double uniform(double from, double to) { return from + (to - from) * stream_.uniform(draw_++); }
  std::uint64_t below(std::uint64_t count) { return stream_.bits(draw_++) % count; }
  Point2 point() {
    const Point2 p{uniform(-1, 9), uniform(-1, 9)};
    return below(2) == 0 ? snapped(p) : Point2{std::round(p.x * 4) / 4, std::round(p.y * 4) / 4};
  }
  double height() { return below(2) == 0 ? uniform(0, 3) : 0.5 * static_cast<double>(below(7)); }

 private:
  RandomStream stream_;
  std::uint64_t draw_ = 0;
};

/// As a string, a cell a letter: X in the projection.
std::string as_text(int columns, const std::vector<Span>& spans) {
  std::string text(static_cast<std::size_t>(columns), '.');
  for (const Span span : spans) {
    for (int i = span.from; i < span.to; ++i) {
      char& cell = text[static_cast<std::size_t>(i)];
      cell = cell == '.' ? 'X' : '2';  // twice: wrong
    }
  }
  return text;
}

template <typename Shape>
std::string expected_text(const Shape& shape, Point3 end, const ProjectionGrid& grid, int row) {
  std::string text;
  for (int i = 0; i < grid.columns; ++i) text += blocks(shape, end, grid.centre(i, row)) ? 'X' : '.';
  return text;
}

/// Rows whose projection is not the set of the cells that blocks() names.
int wrong_rows(const std::vector<UprightPanel>& panels, Point3 end, const ProjectionGrid& grid) {
  const PanelProjection projections(panels, end, grid);
  int wrong = 0;
  PanelProjection::Band band;
  const Span level = projections.level_rows();
  for (const auto& [first, last] : {Span{0, level.from}, level, Span{level.to, grid.rows}}) {
    if (first >= last) continue;
    projections.begin(band, first, last);
    for (int row = first; row < last; ++row) {
      projections.row(band, row);
      std::vector<std::vector<Span>> spans(panels.size());
      for (std::size_t k = 0; k < band.panel.size(); ++k) {
        spans[band.panel[k]].push_back({band.from[k], band.to[k]});
      }
      for (const auto& [panel, span] : band.more) spans[panel].push_back(span);
      for (std::size_t p = 0; p < panels.size(); ++p) {
        wrong += as_text(grid.columns, spans[p]) != expected_text(panels[p], end, grid, row);
      }
    }
  }
  return wrong;
}

template <typename Shadow, typename Shape>
int wrong_rows(const Shape& shape, Point3 end, const ProjectionGrid& grid) {
  const Shadow projection(shape, end, grid);
  int wrong = 0;
  for (int row = 0; row < grid.rows; ++row) {
    std::vector<Span> spans;
    if (row >= projection.rows().from && row < projection.rows().to) projection.spans(row, spans);
    wrong += as_text(grid.columns, spans) != expected_text(shape, end, grid, row);
  }
  return wrong;
}

/// A grid whose centres are every one on the lattice of quarter metres, or none.
ProjectionGrid grid_of(Draws& draws) {
  return draws.below(2) == 0 ? ProjectionGrid({-1.125, -1.125}, 0.25, 44, 42, draws.height())
                             : ProjectionGrid({-1.07, -1.2}, 0.19, 60, 55, draws.height());
}

Polygon2 corners_of(Draws& draws) {  // star-shaped about a point, often concave
  const Point2 middle = draws.point();
  Polygon2 corners;
  const int count = 3 + static_cast<int>(draws.below(5));
  for (int i = 0; i < count; ++i) {
    const double angle = 6.2831853 * (i + draws.uniform(0, 0.8)) / count;
    const double radius_m = draws.uniform(0.3, 2);
    corners.push_back(snapped(middle + radius_m * Point2{std::cos(angle), std::sin(angle)}));
  }
  return corners;
}

}  // namespace

TEST_CASE("the shadows of panels are the cells whose lines cross them") {
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    Draws draws(seed);
    const ProjectionGrid grid = grid_of(draws);
    const Point2 at = draws.point();
    const Point3 end{at.x, at.y, draws.below(3) == 0 ? grid.z_m : draws.height()};
    std::vector<UprightPanel> panels;
    for (int i = 0; i < 24; ++i) {
      UprightPanel panel{{draws.point(), draws.point()}, draws.height(), 0};
      panel.top_m = panel.bottom_m + draws.uniform(0, 2);
      const std::uint64_t kind = draws.below(8);
      if (kind == 0) panel.base.b.y = panel.base.a.y;                        // along the rows
      if (kind == 1) panel.base.b.x = panel.base.a.x;                        // across them
      if (kind == 2) panel.base.a = at;                                      // the end stands at its end
      if (kind == 3) panel.base = {at - Point2{1, 2}, at + Point2{0.5, 1}};  // and on it
      if (kind == 4) panel.base.a.y = at.y;
      if (kind == 5) panel.base.b = snapped(panel.base.a + Point2{3, kGridPitchM});
      panels.push_back(panel);
    }
    CAPTURE(seed);
    CHECK(wrong_rows(panels, end, grid) == 0);
  }
}

TEST_CASE("the shadow of a plate leaves out its holes") {
  int shadowed = 0;
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    Draws draws(seed + 1000);
    const ProjectionGrid grid = grid_of(draws);
    const Point2 at = draws.point();
    const Point3 end{at.x, at.y, draws.height()};
    LevelPlate plate{corners_of(draws), {}, draws.below(4) == 0 ? end.z : draws.height()};
    for (std::uint64_t i = draws.below(3); i > 0; --i) plate.holes.push_back(corners_of(draws));
    CAPTURE(seed);
    CHECK(wrong_rows<PlateProjection>(plate, end, grid) == 0);
    shadowed += (end.z >= plate.z_m) != (grid.z_m >= plate.z_m);
  }
  CHECK(shadowed > 40);
}

TEST_CASE("the shadow of a prism, from outside, inside, above and from its own edge") {
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    Draws draws(seed + 2000);
    const ProjectionGrid grid = grid_of(draws);
    UprightPrism prism{corners_of(draws), {}, draws.height(), 0};
    prism.box = bounding_box(prism.outline);
    prism.top_m = prism.bottom_m + draws.uniform(0.1, 2);
    Point2 at = draws.point();
    const std::uint64_t kind = draws.below(6);
    if (kind == 0) at = snapped(centroid(prism.outline));
    if (kind == 1) at = prism.outline[1];
    const Point3 end{at.x, at.y, draws.below(3) == 0 ? grid.z_m : draws.height()};
    CAPTURE(seed);
    CHECK(wrong_rows<PrismProjection>(prism, end, grid) == 0);
  }
}

TEST_CASE(
    "a prism blocks the lines that run inside it: the half spaces of a convex one leave some of the line") {
  int blocked = 0, clear = 0;
  for (std::uint64_t seed = 0; seed < 20'000; ++seed) {
    Draws draws(seed + 3000);
    const Point2 p = draws.point(), q = draws.point(), r = draws.point();
    UprightPrism prism{{p, q, r}, {}, draws.height(), 0};
    prism.box = bounding_box(prism.outline);
    prism.top_m = prism.bottom_m + draws.uniform(0.1, 2);
    const Point2 from = draws.point(), to = draws.point();
    const Point3 a{from.x, from.y, draws.height()}, b{to.x, to.y, draws.height()};
    double begin = 0, end = 1;  // the part of the line inside
    bool on_a_face = false;     // where it lies wholly in one, crosses() says what that counts as
    // Of the half space in which a figure is positive: its values at either end of the line.
    const auto clip = [&](double at_a, double at_b) {
      on_a_face = on_a_face || (at_a == 0 && at_b == 0);
      if (at_a < 0 && at_b < 0) end = -1;
      if (at_a < 0 && at_b >= 0) begin = std::max(begin, at_a / (at_a - at_b));
      if (at_a >= 0 && at_b < 0) end = std::min(end, at_a / (at_a - at_b));
    };
    const double turn = cross(q - p, r - p) > 0 ? 1 : -1;
    for (const auto& [c, d] : {Segment2{p, q}, Segment2{q, r}, Segment2{r, p}})
      clip(turn * cross(d - c, from - c), turn * cross(d - c, to - c));
    clip(a.z - prism.bottom_m, b.z - prism.bottom_m);
    clip(prism.top_m - a.z, prism.top_m - b.z);
    if (on_a_face || std::abs(end - begin) < 1e-9 || cross(q - p, r - p) == 0) continue;
    CAPTURE(seed);
    CHECK(blocks(prism, a, b) == (end > begin));
    CHECK(blocks(prism, b, a) == (end > begin));
    ++(end > begin ? blocked : clear);
  }
  CHECK(blocked > 2000);
  CHECK(clear > 2000);
}

TEST_CASE("a line through the mouth of a prism that is hollow runs outside it") {
  // A U, 3 m x 3 m, walls of 1 m, open to the top; 1 m high.
  UprightPrism prism{{{0, 0}, {3, 0}, {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}}, {}, 0, 1};
  prism.box = bounding_box(prism.outline);
  CHECK_FALSE(blocks(prism, {1.5, 4, 0.5}, {1.5, 1.25, 0.5}));
  CHECK(blocks(prism, {1.5, 4, 0.5}, {1.5, 0.75, 0.5}));
  CHECK(blocks(prism, {-1, 2, 0.5}, {1.5, 2, 0.5}));           // a leg of it
  CHECK_FALSE(blocks(prism, {1.25, 2, 0.5}, {1.75, 2, 0.5}));  // between the legs
  CHECK_FALSE(
      blocks(prism, {1.25, 2, 0.5}, {2.75, 2, 2.5}));     // over the second leg: 1.5 m up where it begins
  CHECK(blocks(prism, {1.25, 2, 0.5}, {2.75, 2, 1.25}));  // 0.875 m up there, over it further on
}

TEST_CASE("a centre on the edge of a shadow goes with the side that crosses() gives it") {
  // Seen from (0, 0) the wall from (1, 1) to (1, 2) shades what lies beyond it, under y = 2x and over y = x.
  // An end of the wall that lies on the line counts as over it: the upper edge belongs to the projection, the
  // lower one does not. A centre on the wall counts as lying on the side of smaller x, here the end's.
  const ProjectionGrid grid({-0.5, -0.5}, 1, 5, 5, 1);  // centres at 0, 1, ... 4
  const std::vector<UprightPanel> panels{{{{1, 1}, {1, 2}}, 0, 2}};
  const char* expected[] = {".....", ".....", ".....", "..X..", "..XX."};
  for (int row = 0; row < 5; ++row) CHECK(expected_text(panels[0], {0, 0, 1}, grid, row) == expected[row]);
  CHECK(wrong_rows(panels, {0, 0, 1}, grid) == 0);
}

TEST_CASE("over a low wall the shadow ends where the line clears it") {
  // From 2 m high, over a wall 1 m high at a distance of 1 m, down to the floor: the projection reaches from
  // 1 m to 2 m, where the line touches the top, which does not count; nor does the centre on the wall itself.
  const ProjectionGrid grid({0.05, -0.05}, 0.1, 40, 1, 0);
  const std::vector<UprightPanel> panels{{{{1, -5}, {1, 5}}, 0, 1}};
  REQUIRE(wrong_rows(panels, {0, 0, 2}, grid) == 0);
  const std::string text = expected_text(panels[0], {0, 0, 2}, grid, 0);
  CHECK(std::count(text.begin(), text.end(), 'X') == 9);
  CHECK(text.find('X') == 10);  // at 1.1 m
}
