#include "linkmargin/site/layout/cell_union.hpp"

#include <algorithm>
#include <map>
#include <vector>

namespace linkmargin::layout {
namespace {

bool is_square_cornered(const Polygon2& shape) {
  return std::ranges::all_of(
      edges(shape), [](const Segment2& edge) { return edge.a.x == edge.b.x || edge.a.y == edge.b.y; });
}

std::vector<double> distinct(std::vector<double> values) {
  std::ranges::sort(values);
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

/// Which cells, between neighbouring coordinates of the corners, belong to a shape.
class Cells {
 public:
  explicit Cells(std::span<const Polygon2> shapes) {
    std::vector<double> xs;
    std::vector<double> ys;
    for (const Polygon2& shape : shapes) {
      for (const Point2 corner : shape) {
        xs.push_back(corner.x);
        ys.push_back(corner.y);
      }
    }
    xs_ = distinct(std::move(xs));
    ys_ = distinct(std::move(ys));
    filled_.resize(columns() * rows());
    for (const Polygon2& shape : shapes) fill(shape);
  }

  /// The edges between a cell that belongs and one that does not, the former on the left hand.
  std::map<Point2, std::vector<Point2>> boundary() const {
    std::map<Point2, std::vector<Point2>> next;
    for (std::size_t column = 0; column < columns(); ++column) {
      for (std::size_t row = 0; row < rows(); ++row) {
        if (!at(column, row)) continue;
        const Point2 low{xs_[column], ys_[row]};
        const Point2 high{xs_[column + 1], ys_[row + 1]};
        if (row == 0 || !at(column, row - 1)) next[low].push_back({high.x, low.y});
        if (!at(column + 1, row)) next[{high.x, low.y}].push_back(high);
        if (!at(column, row + 1)) next[high].push_back({low.x, high.y});
        if (column == 0 || !at(column - 1, row)) next[{low.x, high.y}].push_back(low);
      }
    }
    return next;
  }

 private:
  std::size_t columns() const { return xs_.empty() ? 0 : xs_.size() - 1; }
  std::size_t rows() const { return ys_.empty() ? 0 : ys_.size() - 1; }

  bool at(std::size_t column, std::size_t row) const {
    return column < columns() && row < rows() && filled_[column * rows() + row];
  }

  static std::size_t position(const std::vector<double>& of, double coordinate) {
    return static_cast<std::size_t>(std::ranges::lower_bound(of, coordinate) - of.begin());
  }

  /// Every cell whose middle lies in a shape; of a rectangle those between its sides.
  void fill(const Polygon2& shape) {
    const Box2 box = bounding_box(shape);
    const std::size_t right = position(xs_, box.max.x);
    const std::size_t top = position(ys_, box.max.y);
    for (std::size_t column = position(xs_, box.min.x); column < right; ++column) {
      for (std::size_t row = position(ys_, box.min.y); row < top; ++row) {
        const Point2 middle{(xs_[column] + xs_[column + 1]) / 2, (ys_[row] + ys_[row + 1]) / 2};
        if (shape.size() == 4 || contains(shape, middle)) filled_[column * rows() + row] = true;
      }
    }
  }

  std::vector<double> xs_;
  std::vector<double> ys_;
  std::vector<bool> filled_;
};

Polygon2 without_straight_joints(const Polygon2& outline) {
  Polygon2 corners;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point2 before = outline[(i + outline.size() - 1) % outline.size()];
    const Point2 after = outline[(i + 1) % outline.size()];
    const Point2 here = outline[i];
    const bool straight =
        (before.x == here.x && here.x == after.x) || (before.y == here.y && here.y == after.y);
    if (!straight) corners.push_back(here);
  }
  return corners;
}

}  // namespace

std::optional<Polygon2> united(std::span<const Polygon2> shapes) {
  if (shapes.empty() || !std::ranges::all_of(shapes, is_square_cornered)) return {};
  auto next = Cells(shapes).boundary();
  if (next.empty()) return {};
  Polygon2 outline;
  const Point2 start = next.begin()->first;
  Point2 here = start;
  do {
    auto& ways = next.at(here);
    if (ways.size() != 1) return {};  // parts that meet at a corner alone
    outline.push_back(here);
    here = ways.front();
    next.erase(outline.back());
  } while (here != start);
  if (!next.empty()) return {};
  return without_straight_joints(outline);
}

}  // namespace linkmargin::layout
