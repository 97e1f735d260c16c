#include "linkmargin/link/mechanism/corner_index.hpp"

#include "linkmargin/base/simd_dispatch.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace linkmargin {

/// Of all points by which a way is so long; its ends are those of the line, drawn level.
struct CornerIndex::Ellipse {
  Point2 from;
  Point2 along;    ///< length 1
  double stretch;  ///< metres of the line for one in plan
  double half_line_m;
  double along2, across2, both;  ///< squares of its half axes, and their product
};

CornerIndex::CornerIndex(std::span<const UprightEdge> edges) {
  Eight none;
  std::ranges::fill(none.x, std::numeric_limits<double>::quiet_NaN());
  std::ranges::fill(none.y, std::numeric_limits<double>::quiet_NaN());
  eights_.assign((edges.size() + kLanes - 1) / kLanes, none);
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const UprightEdge& edge = edges[i];
    eights_[i / kLanes].x[i % kLanes] = edge.at.x;
    eights_[i / kLanes].y[i % kLanes] = edge.at.y;
    if (i % kRun == 0) runs_.push_back({Box2::nothing(), edge.bottom_m, edge.top_m});
    Run& run = runs_.back();
    run.box.take(edge.at);
    run.bottom_m = std::min(run.bottom_m, edge.bottom_m);
    run.top_m = std::max(run.top_m, edge.top_m);
  }
}

LINKMARGIN_LOOP unsigned CornerIndex::inside_body(const Eight& edges, const Ellipse& ellipse) {
  const Ellipse of = ellipse;
  double over[kLanes];
  for (std::size_t k = 0; k < kLanes; ++k) {
    const double x = edges.x[k] - of.from.x, y = edges.y[k] - of.from.y;
    const double along = (x * of.along.x + y * of.along.y) * of.stretch - of.half_line_m;
    const double across = of.along.x * y - of.along.y * x;
    over[k] = along * along * of.across2 + across * across * of.along2 - of.both;
  }
  unsigned mask = 0;
  for (std::size_t k = 0; k < kLanes; ++k) mask |= (over[k] <= 0 ? 1U : 0U) << k;
  return mask;
}
LINKMARGIN_WIDE unsigned CornerIndex::inside_wide(const Eight& edges, const Ellipse& ellipse) {
  return inside_body(edges, ellipse);
}
unsigned CornerIndex::inside(const Eight& edges, const Ellipse& ellipse) {
  return inside_body(edges, ellipse);
}

void CornerIndex::near(const Line& line, double way_m, std::vector<std::uint32_t>& found) const {
  found.clear();
  const Point2 plan = line.plan.b - line.plan.a;
  const double plan_m = distance(line.plan.a, line.plan.b);
  const double long2 = way_m * way_m / 4;
  const double across2 = std::max(0.0, long2 - line.length_m * line.length_m / 4);
  constexpr double kRounding = 1e-9;
  const Ellipse ellipse{line.plan.a,
                        (1 / plan_m) * plan,
                        line.length_m / plan_m,
                        line.length_m / 2,
                        long2,
                        across2,
                        long2 * across2 * (1 + kRounding) + kRounding * long2};
  const double reach_m = std::sqrt(across2) + 1e-3;
  for (std::size_t r = 0; r < runs_.size(); ++r) {
    const Run& run = runs_[r];
    if (line.high_m < run.bottom_m || line.low_m >= run.top_m) continue;
    const Point2 half = 0.5 * (run.box.max - run.box.min);
    const Point2 middle = run.box.min + half - ellipse.from;
    const double thick_m = std::abs(ellipse.along.x) * half.y + std::abs(ellipse.along.y) * half.x;
    if (std::abs(cross(ellipse.along, middle)) > reach_m + thick_m) continue;
    const double half_long_m = std::abs(ellipse.along.x) * half.x + std::abs(ellipse.along.y) * half.y + 1e-3;
    const double along_m = dot(ellipse.along, middle);
    if (along_m < -half_long_m || along_m > plan_m + half_long_m) continue;
    const std::size_t end = std::min(eights_.size(), (r + 1) * kRun / kLanes);
    for (std::size_t e = r * kRun / kLanes; e < end; ++e) {
      unsigned mask = has_wide() ? inside_wide(eights_[e], ellipse) : inside(eights_[e], ellipse);
      for (; mask != 0; mask &= mask - 1)
        found.push_back(static_cast<std::uint32_t>(e * kLanes) +
                        static_cast<std::uint32_t>(std::countr_zero(mask)));
    }
  }
}

}  // namespace linkmargin
