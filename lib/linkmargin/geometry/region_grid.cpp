#include "linkmargin/geometry/region_grid.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace linkmargin {
namespace {

constexpr std::uint32_t kUnseen = 0xFFFFFFFF;

double grid_pitch_m(double pitch_m) {
  return std::max(1.0, std::ceil(pitch_m / kGridPitchM)) * kGridPitchM;
}

}  // namespace

NodeLayout NodeLayout::over(const Box2& box, double pitch_m, std::size_t most_nodes) {
  const double width_m = box.max.x - box.min.x;
  const double depth_m = box.max.y - box.min.y;
  NodeLayout layout;
  for (layout.pitch_m = grid_pitch_m(pitch_m);; layout.pitch_m = grid_pitch_m(layout.pitch_m * 1.25)) {
    layout.columns = static_cast<int>(std::ceil(width_m / layout.pitch_m)) + 4;
    layout.rows = static_cast<int>(std::ceil(depth_m / layout.pitch_m)) + 4;
    if (layout.size() <= most_nodes) break;
  }
  constexpr Point2 kOffTheGrid{kGridPitchM / 2, kGridPitchM / 2};
  layout.first = snapped(box.min - Point2{1.5 * layout.pitch_m, 1.5 * layout.pitch_m}) + kOffTheGrid;
  return layout;
}

RegionGrid::RegionGrid(const NodeLayout& layout, std::span<const Segment2> walls)
    : layout_(layout), index_(walls), right_(layout.size()), above_(layout.size()) {
  for (int row = 0; row < layout_.rows; ++row) {
    meet(walls, layout_.node(0, row), 1, layout_.columns - 1, right_);
  }
  const auto columns = static_cast<std::uint32_t>(layout_.columns);
  for (int column = 0; column < layout_.columns; ++column) {
    meet(walls, layout_.node(column, 0), columns, layout_.rows - 1, above_);
  }
  fill();
}

/// Finds the walls that one line of nodes meets, between which two of them.
void RegionGrid::meet(std::span<const Segment2> walls, std::uint32_t from, std::uint32_t step, int steps,
                      std::vector<Between>& into) {
  const auto node = [&](int i) { return from + static_cast<std::uint32_t>(i) * step; };
  const Segment2 line{layout_.at(from), layout_.at(node(steps))};
  struct Met {
    int after;
    double fraction;
    std::uint32_t wall;
  };
  std::vector<Met> met;
  for (const std::uint32_t wall : index_.crossings(line)) {
    const double fraction = crossing_fraction(line, walls[wall]);
    const int near = static_cast<int>(fraction * steps);
    for (const int i : {near, near - 1, near + 1}) {  // the fraction is rounded, the predicate is exact
      if (i < 0 || i >= steps) continue;
      if (!crosses({layout_.at(node(i)), layout_.at(node(i + 1))}, walls[wall])) continue;
      met.push_back({i, fraction, wall});
      break;
    }
  }
  std::ranges::sort(met, [](const Met& l, const Met& r) {
    return std::tie(l.after, l.fraction, l.wall) < std::tie(r.after, r.fraction, r.wall);
  });
  for (const Met& one : met) {
    Between& range = into[node(one.after)];
    if (range.count == 0) range.first = static_cast<std::uint32_t>(met_.size());
    ++range.count;
    met_.push_back(one.wall);
  }
}

void RegionGrid::fill() {
  regions_.assign(layout_.size(), kUnseen);
  const auto columns = static_cast<std::uint32_t>(layout_.columns);
  std::vector<std::uint32_t> open;
  for (std::uint32_t start = 0; start < regions_.size(); ++start) {
    if (regions_[start] != kUnseen) continue;
    const std::uint32_t region = region_count_++;
    const auto reach = [&](std::uint32_t node, bool joined) {
      if (!joined || regions_[node] != kUnseen) return;
      regions_[node] = region;
      open.push_back(node);
    };
    reach(start, true);
    while (!open.empty()) {
      const std::uint32_t node = open.back();
      open.pop_back();
      const int column = layout_.column(node);
      const int row = layout_.row(node);
      if (column + 1 < layout_.columns) reach(node + 1, right_[node].count == 0);
      if (column > 0) reach(node - 1, right_[node - 1].count == 0);
      if (row + 1 < layout_.rows) reach(node + columns, above_[node].count == 0);
      if (row > 0) reach(node - columns, above_[node - columns].count == 0);
    }
  }
}

std::optional<std::uint32_t> RegionGrid::node_of(Point2 p) const {
  const Point2 place = snapped(p);
  const int column = static_cast<int>(std::floor((place.x - layout_.first.x) / layout_.pitch_m));
  const int row = static_cast<int>(std::floor((place.y - layout_.first.y) / layout_.pitch_m));
  struct Near {
    double distance_m;
    std::uint32_t node;
  };
  std::vector<Near> around;
  around.reserve(16);
  for (int j = std::max(0, row - 1); j <= std::min(layout_.rows - 1, row + 2); ++j) {
    for (int i = std::max(0, column - 1); i <= std::min(layout_.columns - 1, column + 2); ++i) {
      const std::uint32_t node = layout_.node(i, j);
      around.push_back({distance(place, layout_.at(node)), node});
    }
  }
  std::ranges::stable_sort(around, {}, &Near::distance_m);
  const auto found = std::ranges::find_if(around, [&](const Near& near) {
    return index_.crossings({place, layout_.at(near.node)}).empty();
  });
  return found == around.end() ? std::nullopt : std::optional(found->node);
}

}  // namespace linkmargin
