#pragma once

#include "linkmargin/geometry/projection/projection_grid.hpp"

#include <algorithm>

namespace linkmargin {

/// First column whose centre lies at x or beyond.
inline int column_at(const ProjectionGrid& grid, double x) {
  return static_cast<int>(std::ranges::lower_bound(grid.xs, x) - grid.xs.begin());
}

/// Turns the places where a projection may begin or end along a row into its spans, appended.
/// @param cuts  in any order; sorted here
/// @param hit   hit(column): whether the cell belongs to the projection; constant between two cuts
template <typename Hit>
void walk_cuts(const ProjectionGrid& grid, std::vector<ProjectionCut>& cuts, const Hit& hit,
               std::vector<Span>& spans) {
  std::ranges::sort(cuts, {}, &ProjectionCut::from_m);
  const std::size_t before = spans.size();
  const auto put = [&](int from, int to) {
    if (spans.size() > before && spans.back().to == from) {
      spans.back().to = to;
    } else {
      spans.push_back({from, to});
    }
  };
  int column = 0;
  const auto put_run = [&](int to) {
    if (to <= column) return;
    if (hit(column + (to - column) / 2)) put(column, to);
    column = to;
  };
  for (const ProjectionCut& cut : cuts) {
    put_run(column_at(grid, cut.from_m));
    for (; column < grid.columns && grid.xs[static_cast<std::size_t>(column)] <= cut.to_m; ++column) {
      if (hit(column)) put(column, column + 1);
    }
  }
  put_run(grid.columns);
}

/// Adds the cut that a line of the plan makes in a row.
/// @param slack_m  how far the line may lie from where it is said to
void add_cut(const Segment2& line, double y, double slack_m, std::vector<ProjectionCut>& cuts);

/// The rows whose centres lie within two heights of the plan.
Span rows_between(const ProjectionGrid& grid, double low_m, double high_m);

}  // namespace linkmargin
