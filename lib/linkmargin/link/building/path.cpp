#include "linkmargin/link/building/path.hpp"

#include "linkmargin/geometry/part_inside.hpp"
#include "linkmargin/link/building/box_index.hpp"
#include "linkmargin/link/building/panel_index.hpp"
#include "linkmargin/link/building/slab_level.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

class Tracer {
 public:
  /// @param found  crossings are put there, in no order
  Tracer(const Building& building, Point3 a, Point3 b, std::vector<Crossing>& found)
      : building_(building), found_(found) {
    found_.clear();
    found_.reserve(8);
    const Point3 one = snapped_in_plan(a), other = snapped_in_plan(b);
    from_ = std::min(one, other);
    to_ = std::max(one, other);
    distance_m_ = distance(from_, to_);
    ray_ = {from_.plan(), to_.plan()};
    box_ = bounding_box(ray_);
  }

  void find(std::span<const std::uint32_t> panels, std::span<const std::uint32_t> obstacles) {
    for (const std::uint32_t panel : panels) pass(building_.panels()[panel]);
    // Half-open as the panels: a point on a slab stands over it.
    const auto [low_m, high_m] = std::minmax(from_.z, to_.z);
    const std::vector<SlabLevel>& levels = building_.slab_levels();
    const auto last = std::ranges::upper_bound(levels, high_m, {}, &SlabLevel::z_m);
    for (auto level = std::ranges::upper_bound(levels, low_m, {}, &SlabLevel::z_m); level != last; ++level)
      pass_level(*level);
    for (const std::uint32_t obstacle : obstacles) pass_obstacle(obstacle);
  }

  Segment2 ray() const { return ray_; }

 private:
  double height_at(double fraction) const { return from_.z + fraction * (to_.z - from_.z); }

  void pass(const Panel& panel) {
    const double fraction = crossing_fraction(ray_, panel.base);
    const double z = height_at(fraction);
    if (z < panel.bottom_m || z >= panel.top_m) return;
    const double cosine = std::abs(dot(panel.normal, ray_.b - ray_.a)) / distance_m_;
    found_.push_back({panel.barrier, fraction, std::min(cosine, 1.0), panel.wall});
  }

  /// The slabs at one height, which the line meets in one point.
  void pass_level(const SlabLevel& level) {
    const double rise = to_.z - from_.z;
    const double fraction = (level.z_m - from_.z) / rise;
    const Point2 at = snapped(at_fraction(ray_, fraction));
    thread_local std::vector<std::uint32_t> near;  // asked millions of times: no memory asked for each
    level.index.near({at, at}, near);
    for (const std::uint32_t position : near) {
      const Slab& slab = building_.slabs()[level.first + position];
      if (slab.box.holds(at) && is_met(slab, at)) {
        found_.push_back({slab.barrier, fraction, std::min(std::abs(rise) / distance_m_, 1.0), kNone});
      }
    }
  }

  static bool is_met(const Slab& slab, Point2 at) {
    return contains(slab.outline, at) &&
           std::ranges::none_of(slab.holes, [at](const Polygon2& hole) { return contains(hole, at); });
  }

  /// The part of the line in a slice of heights; empty when from >= to.
  RayPart within_heights(double bottom_m, double top_m) const {
    const double rise = to_.z - from_.z;
    if (rise == 0) {
      const bool inside = from_.z >= bottom_m && from_.z < top_m;
      return inside ? RayPart{0, 1} : RayPart{1, 0};
    }
    const double at_bottom = (bottom_m - from_.z) / rise;
    const double at_top = (top_m - from_.z) / rise;
    return {std::max(0.0, std::min(at_bottom, at_top)), std::min(1.0, std::max(at_bottom, at_top))};
  }

  void pass_obstacle(std::uint32_t position) {
    const ObstaclePrism& obstacle = building_.obstacles()[position];
    if (!obstacle.box.meets(box_) || !meets(ray_, obstacle.box)) return;  // most by the quicker question
    const RayPart slice = within_heights(obstacle.bottom_m, obstacle.top_m);
    if (slice.from >= slice.to) return;
    if (const auto inside = first_part_inside(obstacle.outline, ray_, slice))
      found_.push_back({obstacle.barrier, (inside->from + inside->to) / 2, 1.0, kNone, position});
  }

  const Building& building_;
  std::vector<Crossing>& found_;
  Point3 from_, to_;
  double distance_m_ = 0;
  Segment2 ray_;
  Box2 box_;  // of the ray
};

/// The path that crossings belong to, with these in its order.
Path in_order(Point3 a, Point3 b, Path path) {
  const Point3 one = snapped_in_plan(a), other = snapped_in_plan(b);
  path.from = std::min(one, other);
  path.to = std::max(one, other);
  path.distance_m = distance(path.from, path.to);
  std::ranges::sort(path.crossings, [](const Crossing& l, const Crossing& r) {
    return std::tie(l.fraction, l.barrier, l.wall) < std::tie(r.fraction, r.barrier, r.wall);
  });
  return path;
}

}  // namespace

void find_crossings(const Building& building, Point3 a, Point3 b, std::vector<Crossing>& found) {
  Tracer tracer(building, a, b, found);
  thread_local std::vector<std::uint32_t> panels, obstacles;  // millions of times: no memory asked for each
  const auto [low_m, high_m] = std::minmax(a.z, b.z);
  building.panel_index().crossings(tracer.ray(), low_m, high_m, panels);
  building.obstacle_index().near(tracer.ray(), obstacles);
  tracer.find(panels, obstacles);
}

Path trace(const Building& building, Point3 a, Point3 b) {
  Path path;
  find_crossings(building, a, b, path.crossings);
  return in_order(a, b, std::move(path));
}

Path trace_by_scan(const Building& building, Point3 a, Point3 b) {
  Path path;
  Tracer tracer(building, a, b, path.crossings);
  std::vector<std::uint32_t> panels;
  for (std::uint32_t i = 0; i < building.panels().size(); ++i) {
    if (crosses(tracer.ray(), building.panels()[i].base)) panels.push_back(i);
  }
  std::vector<std::uint32_t> obstacles(building.obstacles().size());
  std::iota(obstacles.begin(), obstacles.end(), 0U);
  tracer.find(panels, obstacles);
  return in_order(a, b, std::move(path));
}

double plain_loss_db(const Building& building, const Crossing& crossing) {
  if (crossing.barrier == kNone) return 0;
  return building.barriers()[crossing.barrier].transmission.loss_db(crossing.incidence_cos);
}

}  // namespace linkmargin
