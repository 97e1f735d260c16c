#include "linkmargin/link/building/path.hpp"

#include "linkmargin/link/building/panel_index.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <tuple>

namespace linkmargin {
namespace {

/// The part of a line, as fractions of its length, that lies in a slice of heights; empty when from >= to.
struct Part {
  double from;
  double to;
};

class Tracer {
 public:
  Tracer(const Building& building, Point3 a, Point3 b) : building_(building) {
    path_.from = std::min(snapped_in_plan(a), snapped_in_plan(b));
    path_.to = std::max(snapped_in_plan(a), snapped_in_plan(b));
    path_.distance_m = distance(path_.from, path_.to);
    ray_ = {path_.from.plan(), path_.to.plan()};
    box_ = bounding_box(ray_);
  }

  Path finish(std::span<const std::uint32_t> panels) {
    path_.crossings.reserve(panels.size() + 2);
    for (const std::uint32_t panel : panels) pass(building_.panels()[panel]);
    // Half-open as the panels: a point on a slab stands over it.
    const auto [low_m, high_m] = std::minmax(path_.from.z, path_.to.z);
    const std::vector<Slab>& slabs = building_.slabs();
    const auto first = std::ranges::upper_bound(slabs, low_m, {}, &Slab::z_m);
    const auto last = std::ranges::upper_bound(slabs, high_m, {}, &Slab::z_m);
    for (auto slab = first; slab != last;) slab = pass_level(slab, last);
    for (std::uint32_t obstacle = 0; obstacle < building_.obstacles().size(); ++obstacle)
      pass_obstacle(obstacle);
    std::sort(path_.crossings.begin(), path_.crossings.end(), [](const Crossing& l, const Crossing& r) {
      return std::tie(l.fraction, l.barrier, l.wall) < std::tie(r.fraction, r.barrier, r.wall);
    });
    return std::move(path_);
  }

  Segment2 ray() const { return ray_; }

 private:
  double height_at(double fraction) const { return path_.from.z + fraction * (path_.to.z - path_.from.z); }

  void pass(const Panel& panel) {
    const double fraction = crossing_fraction(ray_, panel.base);
    const double z = height_at(fraction);
    if (z < panel.bottom_m || z >= panel.top_m) return;
    const double cosine = std::abs(dot(panel.normal, ray_.b - ray_.a)) / path_.distance_m;
    path_.crossings.push_back({panel.barrier, fraction, std::min(cosine, 1.0), panel.wall});
  }

  using Plates = std::vector<Slab>::const_iterator;

  /// The slabs at one height, which the line meets in one point. @return the first of the next height
  Plates pass_level(Plates slab, Plates last) {
    const double z_m = slab->z_m;
    const double rise = path_.to.z - path_.from.z;
    const double fraction = (z_m - path_.from.z) / rise;
    const Point2 at = snapped(at_fraction(ray_, fraction));
    for (; slab != last && slab->z_m == z_m; ++slab) {
      if (slab->box.holds(at) && is_met(*slab, at)) {
        path_.crossings.push_back(
            {slab->barrier, fraction, std::min(std::abs(rise) / path_.distance_m, 1.0), kNone});
      }
    }
    return slab;
  }

  static bool is_met(const Slab& slab, Point2 at) {
    return contains(slab.outline, at) &&
           std::ranges::none_of(slab.holes, [at](const Polygon2& hole) { return contains(hole, at); });
  }

  Part within_heights(double bottom_m, double top_m) const {
    const double rise = path_.to.z - path_.from.z;
    if (rise == 0) {
      const bool inside = path_.from.z >= bottom_m && path_.from.z < top_m;
      return inside ? Part{0, 1} : Part{1, 0};
    }
    const double at_bottom = (bottom_m - path_.from.z) / rise;
    const double at_top = (top_m - path_.from.z) / rise;
    return {std::max(0.0, std::min(at_bottom, at_top)), std::min(1.0, std::max(at_bottom, at_top))};
  }

  void pass_obstacle(std::uint32_t position) {
    const ObstaclePrism& obstacle = building_.obstacles()[position];
    if (!obstacle.box.meets(box_) || !meets(ray_, obstacle.box)) return;  // most by the quicker question
    const Part slice = within_heights(obstacle.bottom_m, obstacle.top_m);
    if (slice.from >= slice.to) return;
    std::vector<double> cuts{0.0};
    for (const Segment2& edge : edges(obstacle.outline)) {
      if (crosses(ray_, edge)) cuts.push_back(crossing_fraction(ray_, edge));
    }
    cuts.push_back(1.0);
    std::sort(cuts.begin(), cuts.end());
    bool inside = contains(obstacle.outline, ray_.a);
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i, inside = !inside) {
      const double from = std::max(cuts[i], slice.from);
      const double to = std::min(cuts[i + 1], slice.to);
      if (!inside || from >= to) continue;
      path_.crossings.push_back({obstacle.barrier, (from + to) / 2, 1.0, kNone, position});
      return;
    }
  }

  const Building& building_;
  Path path_;
  Segment2 ray_;
  Box2 box_;  // of the ray
};

}  // namespace

Path trace(const Building& building, Point3 a, Point3 b) {
  Tracer tracer(building, a, b);
  thread_local std::vector<std::uint32_t> panels;  // traced millions of times: no memory asked for each
  const auto [low_m, high_m] = std::minmax(a.z, b.z);
  building.panel_index().crossings(tracer.ray(), low_m, high_m, panels);
  return tracer.finish(panels);
}

Path trace_by_scan(const Building& building, Point3 a, Point3 b) {
  Tracer tracer(building, a, b);
  std::vector<std::uint32_t> panels;
  for (std::uint32_t i = 0; i < building.panels().size(); ++i) {
    if (crosses(tracer.ray(), building.panels()[i].base)) panels.push_back(i);
  }
  return tracer.finish(panels);
}

double plain_loss_db(const Building& building, const Crossing& crossing) {
  if (crossing.barrier == kNone) return 0;
  return building.barriers()[crossing.barrier].transmission.loss_db(crossing.incidence_cos);
}

}  // namespace linkmargin
