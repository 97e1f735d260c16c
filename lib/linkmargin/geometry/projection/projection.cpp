#include "linkmargin/geometry/projection/projection.hpp"

#include "linkmargin/geometry/part_inside.hpp"
#include "linkmargin/geometry/projection/projection_cuts.hpp"

#include <cmath>
#include <limits>
#include <span>

namespace linkmargin {
namespace {

/// Wider than any rounding of the edges below within kCoordinateM (some 1e-11 m).
constexpr double kRoundingM = 1e-8;

/// Relative rounding of a magnification, with room; more where an end stands very near a height, see
/// rounding_at().
constexpr double kRounding = 1e-11;

/// A line with its ends in their order, from the lexicographically first.
struct Line3 {
  Point3 from;
  Point3 to;
  Segment2 plan() const { return {from.plan(), to.plan()}; }
};

Line3 in_order(Point3 a, Point3 b) {
  return b < a ? Line3{b, a} : Line3{a, b};
}

/// The part of a line between two heights; empty when from >= to.
RayPart within_heights(const Line3& line, double bottom_m, double top_m) {
  const double rise = line.to.z - line.from.z;
  if (rise == 0) return line.from.z >= bottom_m && line.from.z < top_m ? RayPart{0, 1} : RayPart{1, 0};
  const double at_bottom = (bottom_m - line.from.z) / rise;
  const double at_top = (top_m - line.from.z) / rise;
  return {std::max(0.0, std::min(at_bottom, at_top)), std::min(1.0, std::max(at_bottom, at_top))};
}

/// Relative rounding of the fraction at which a line from z to another height meets height_m.
double rounding_at(double height_m, double z, double other_z) {
  return kRounding + 1e-14 * (std::abs(height_m) + std::abs(z) + std::abs(other_z)) / std::abs(height_m - z);
}

Point2 magnified(Point2 p, Point2 about, double by) {
  return about + by * (p - about);
}

}  // namespace

bool blocks(const UprightPanel& panel, Point3 a, Point3 b) {
  const Line3 line = in_order(a, b);
  if (!crosses(line.plan(), panel.base)) return false;
  const double z = line.from.z + crossing_fraction(line.plan(), panel.base) * (line.to.z - line.from.z);
  return z >= panel.bottom_m && z < panel.top_m;
}

bool blocks(const LevelPlate& plate, Point3 a, Point3 b) {
  const Line3 line = in_order(a, b);
  if ((line.from.z >= plate.z_m) == (line.to.z >= plate.z_m)) return false;
  const double fraction = (plate.z_m - line.from.z) / (line.to.z - line.from.z);
  const Point2 at = snapped(at_fraction(line.plan(), fraction));
  return contains(plate.outline, at) &&
         std::ranges::none_of(plate.holes, [&](const Polygon2& hole) { return contains(hole, at); });
}

bool blocks(const UprightPrism& prism, Point3 a, Point3 b) {
  const Line3 line = in_order(a, b);
  if (!meets(line.plan(), prism.box)) return false;
  const RayPart slice = within_heights(line, prism.bottom_m, prism.top_m);
  return slice.from < slice.to && first_part_inside(prism.outline, line.plan(), slice);
}

ProjectionGrid::ProjectionGrid(Point2 lower_left, double step, int column_count, int row_count,
                               double height_m)
    : corner(lower_left), step_m(step), columns(column_count), rows(row_count), z_m(height_m) {
  for (int i = 0; i < columns; ++i) xs.push_back(snapped(corner.x + (i + 0.5) * step_m));
  for (int j = 0; j < rows; ++j) ys.push_back(snapped(corner.y + (j + 0.5) * step_m));
}

Span rows_between(const ProjectionGrid& grid, double low_m, double high_m) {
  const auto low = std::ranges::lower_bound(grid.ys, low_m);
  const auto high = std::ranges::upper_bound(grid.ys, high_m);
  return {static_cast<int>(low - grid.ys.begin()), static_cast<int>(std::max(low, high) - grid.ys.begin())};
}

void add_cut(const Segment2& line, double y, double slack_m, std::vector<ProjectionCut>& cuts) {
  const Point2 low = line.a.y < line.b.y ? line.a : line.b;
  const Point2 high = line.a.y < line.b.y ? line.b : line.a;
  if (y < low.y - slack_m || y > high.y + slack_m) return;
  const auto [left, right] = std::minmax(low.x, high.x);
  const double rise = high.y - low.y;
  if (rise <= slack_m) {
    cuts.push_back({left - slack_m, right + slack_m});
    return;
  }
  const auto x_at = [&](double at) {
    return low.x + std::clamp((at - low.y) / rise, 0.0, 1.0) * (high.x - low.x);
  };
  const auto [from, to] = std::minmax({x_at(y - slack_m), x_at(y + slack_m)});
  cuts.push_back({from - slack_m, to + slack_m});
}

PlateProjection::PlateProjection(const LevelPlate& plate, Point3 end, const ProjectionGrid& grid)
    : plate_(&plate), end_(end), grid_(&grid) {
  if ((end.z >= plate.z_m) == (grid.z_m >= plate.z_m)) return;
  fraction_ = (plate.z_m - end.z) / (grid.z_m - end.z);
  rows_ = {0, grid.rows};
  if (fraction_ <= 0) return;
  const Box2 box = bounding_box(plate.outline);
  const double slack_m = (kGridPitchM + kRoundingM) / fraction_;
  rows_ = rows_between(grid, end.y + (box.min.y - end.y) / fraction_ - slack_m,
                       end.y + (box.max.y - end.y) / fraction_ + slack_m);
}

void PlateProjection::spans(int row, std::vector<Span>& spans) const {
  thread_local std::vector<ProjectionCut> cuts;
  cuts.clear();
  const double y = grid_->ys[static_cast<std::size_t>(row)];
  const double at_y = end_.y + fraction_ * (y - end_.y);
  const auto add = [&](const Polygon2& polygon) {
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Segment2 edge{polygon[i], polygon[i + 1 < polygon.size() ? i + 1 : 0]};
      add_cut(edge, at_y, kGridPitchM + kRoundingM, cuts);  // the place on the plate is snapped
    }
  };
  if (fraction_ > 0) {
    add(plate_->outline);
    std::ranges::for_each(plate_->holes, add);
    for (ProjectionCut& cut : cuts) {
      cut.from_m = end_.x + (cut.from_m - end_.x) / fraction_;
      cut.to_m = end_.x + (cut.to_m - end_.x) / fraction_;
    }
  }  // else the end lies on the plate, and meets it at one place
  walk_cuts(
      *grid_, cuts, [&](int column) { return blocks(*plate_, end_, grid_->centre(column, row)); }, spans);
}

PrismProjection::PrismProjection(const UprightPrism& prism, Point3 end, const ProjectionGrid& grid)
    : prism_(&prism), end_(end), grid_(&grid) {
  double near = 1;
  double far = std::numeric_limits<double>::infinity();
  std::vector<double> faces{1};  // magnifications of the outline that may bound the projection
  const double rise = grid.z_m - end.z;
  if (rise == 0) {
    if (end.z < prism.bottom_m || end.z >= prism.top_m) return;
  } else {
    const auto [least, most] = std::minmax({(prism.bottom_m - end.z) / rise, (prism.top_m - end.z) / rise});
    if (most < -kRounding || least > 1 + kRounding) return;
    near = most > 0 ? std::max(1.0, 1 / most) : far;
    if (least > 0) far = 1 / least;
    for (const double fraction : {least, most}) {
      if (fraction > 0) faces.push_back(1 / fraction);
    }
    for (const double height_m : {prism.bottom_m, prism.top_m}) {
      if (height_m != end.z) rounding_ = std::max(rounding_, rounding_at(height_m, end.z, grid.z_m));
    }
  }
  add_edges(near, far, faces);
}

void PrismProjection::add_edges(double near, double far, std::span<const double> faces) {
  const Point2 end = end_.plan();
  const auto reach = [&](Point2 p, double by) {
    const double away_m = distance(p, end);
    return away_m == 0 ? 1.0 : std::min(by, kFarM / away_m);
  };
  for (std::size_t i = 0; i < prism_->outline.size(); ++i) {
    const Point2 p = prism_->outline[i];
    const Point2 q = prism_->outline[i + 1 < prism_->outline.size() ? i + 1 : 0];
    const auto add = [&](Point2 a, Point2 b) {
      const double size_m = std::max(distance(a, end), distance(b, end));
      edges_.push_back({{a, b}, kRoundingM + std::max(rounding_, kRounding) * size_m});
    };
    add(magnified(p, end, reach(p, near)), magnified(p, end, reach(p, far)));
    for (const double by : faces) {
      if (by * std::min(distance(p, end), distance(q, end)) > 2 * kFarM) continue;
      add(magnified(p, end, by), magnified(q, end, by));
    }
  }
  add_edges_at_end();
  rows_ = {0, grid_->rows};
  const Box2& box = prism_->box;
  if (end.x >= box.min.x && end.x <= box.max.x && end.y >= box.min.y && end.y <= box.max.y) return;
  double low_m = std::numeric_limits<double>::infinity();
  double high_m = -low_m;
  for (const Edge& edge : edges_) {
    low_m = std::min({low_m, edge.line.a.y - edge.slack_m, edge.line.b.y - edge.slack_m});
    high_m = std::max({high_m, edge.line.a.y + edge.slack_m, edge.line.b.y + edge.slack_m});
  }
  rows_ = rows_between(*grid_, low_m, high_m);
}

/// Where the end stands on the outline, it stands on the side that crosses() says: that differs across the
/// whole line of the edge, and with the order of the ends.
void PrismProjection::add_edges_at_end() {
  const Point2 end = end_.plan();
  const auto add_line = [&](Point2 along) {
    const Point2 far = (kFarM / std::hypot(along.x, along.y)) * along;
    edges_.push_back({{end - far, end + far}, kRoundingM + kRounding * kFarM});
  };
  for (const Segment2 edge : edges(prism_->outline)) {
    if (edge.a == edge.b || side(edge.a, edge.b, end) != 0 || dot(edge.a - end, edge.b - end) > 0) continue;
    add_line(edge.b - edge.a);
    add_line({0, 1});
  }
}

void PrismProjection::spans(int row, std::vector<Span>& spans) const {
  thread_local std::vector<ProjectionCut> cuts;
  cuts.clear();
  const double y = grid_->ys[static_cast<std::size_t>(row)];
  for (const Edge& edge : edges_) add_cut(edge.line, y, edge.slack_m, cuts);
  walk_cuts(
      *grid_, cuts, [&](int column) { return blocks(*prism_, end_, grid_->centre(column, row)); }, spans);
}

}  // namespace linkmargin
