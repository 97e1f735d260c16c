#include "linkmargin/link/building/slab_bound.hpp"

#include "linkmargin/link/building/building.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace linkmargin {
namespace {

constexpr double kCellM = 3;  ///< a bound alone: doubled or halved, no loss moves

/// The area that a slab covers of a cell.
double covered_m2(const Slab& slab, const Box2& cell) {
  const std::vector<Segment2> sides = edges(slab.outline);
  const bool is_cut = std::ranges::any_of(sides, [&](Segment2 side) { return meets(side, cell); });
  const Point2 size = cell.max - cell.min;
  if (is_cut) return shared_area(slab.outline, rectangle(cell.min, size.x, size.y));
  return contains(slab.outline, 0.5 * (cell.min + cell.max)) ? size.x * size.y : 0;
}

}  // namespace

SlabBound::SlabBound(const Building& building) {
  const std::span<const Slab> slabs = building.slabs();
  for (std::size_t first = 0, next = 0; first < slabs.size(); first = next) {
    Level level{.z_m = slabs[first].z_m, .box = Box2::nothing(), .covered = {}};
    for (; next < slabs.size() && slabs[next].z_m == level.z_m; ++next) {
      const double own_db = building.barriers()[slabs[next].barrier].transmission.least_loss_db();
      level.least_db = next == first ? own_db : std::min(level.least_db, own_db);
      level.box.take(slabs[next].box.min);
      level.box.take(slabs[next].box.max);
    }
    const auto count = [](double size_m) { return static_cast<std::size_t>(std::ceil(size_m / kCellM)); };
    level.columns = count(level.box.max.x - level.box.min.x);
    const std::size_t rows = count(level.box.max.y - level.box.min.y);
    std::vector<double> area_m2(level.columns * rows);
    for (const Slab& slab : slabs.subspan(first, next - first)) {
      const auto cell_at = [&](double offset_m) {
        return static_cast<std::size_t>(std::max(0.0, offset_m / kCellM));
      };
      const Point2 from = slab.box.min - level.box.min, to = slab.box.max - level.box.min;
      for (std::size_t row = cell_at(from.y); row < rows && row <= cell_at(to.y); ++row) {
        for (std::size_t column = cell_at(from.x); column < level.columns && column <= cell_at(to.x);
             ++column) {
          const Point2 corner =
              level.box.min + kCellM * Point2{static_cast<double>(column), static_cast<double>(row)};
          const Box2 cell{corner, corner + Point2{kCellM, kCellM}};
          const bool holed = std::ranges::any_of(
              slab.holes, [&](const Polygon2& hole) { return bounding_box(hole).meets(cell); });
          area_m2[row * level.columns + column] += holed ? -kCellM * kCellM : covered_m2(slab, cell);
        }
      }
    }
    for (const double area : area_m2) level.covered.push_back(area >= kCellM * kCellM * (1 - 1e-9));
    levels_.push_back(std::move(level));
  }
}

bool SlabBound::Level::covers(Point2 p) const {
  // On the outline itself the half-open rule decides, which the cells do not know: both sides must be slab.
  constexpr double kBesideM = 1e-3;
  const Point2 offset = p - box.min;
  if (offset.x < kBesideM || offset.y < kBesideM) return false;
  const auto from_column = static_cast<std::size_t>((offset.x - kBesideM) / kCellM);
  const auto to_column = static_cast<std::size_t>((offset.x + kBesideM) / kCellM);
  const auto from_row = static_cast<std::size_t>((offset.y - kBesideM) / kCellM);
  const auto to_row = static_cast<std::size_t>((offset.y + kBesideM) / kCellM);
  const auto is_slab = [&](std::size_t column, std::size_t row) {
    const std::size_t cell = row * columns + column;
    return column < columns && cell < covered.size() && covered[cell];
  };
  return is_slab(from_column, from_row) && is_slab(to_column, to_row) && is_slab(from_column, to_row) &&
         is_slab(to_column, from_row);
}

template <typename Visit>
void SlabBound::for_passed(Point3 a, Point3 b, Visit&& visit) const {
  if (b.z < a.z) std::swap(a, b);
  for (auto level = std::ranges::upper_bound(levels_, a.z, {}, &Level::z_m);
       level != levels_.end() && level->z_m <= b.z; ++level) {
    const double fraction = (level->z_m - a.z) / (b.z - a.z);
    if (level->covers(a.plan() + fraction * (b.plan() - a.plan())) && !visit(*level)) return;
  }
}

double SlabBound::least_db(Point3 a, Point3 b, double enough_db) const {
  double sum_db = 0;
  for_passed(a, b, [&](const Level& level) { return (sum_db += level.least_db) <= enough_db; });
  return sum_db;
}

int SlabBound::closed(Point3 a, Point3 b) const {
  int count = 0;
  for_passed(a, b, [&](const Level&) { return ++count > 0; });
  return count;
}

}  // namespace linkmargin
