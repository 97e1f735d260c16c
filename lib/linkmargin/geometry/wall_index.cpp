#include "linkmargin/geometry/wall_index.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Wider than any rounding in the walk (a few 1e-12 m within kCoordinateM), narrower than anything built.
constexpr double kPadM = 1e-6;

void sort_unique(std::vector<std::uint32_t>& positions) {
  std::ranges::sort(positions);
  positions.erase(std::unique(positions.begin(), positions.end()), positions.end());
}

Box2 box_of(std::span<const Segment2> walls) {
  Box2 box{walls.front().a, walls.front().a};
  for (const Segment2 wall : walls) {
    for (const Point2 p : {wall.a, wall.b}) {
      require_in(kCoordinateM, p.x);
      require_in(kCoordinateM, p.y);
      box.min = {std::min(box.min.x, p.x), std::min(box.min.y, p.y)};
      box.max = {std::max(box.max.x, p.x), std::max(box.max.y, p.y)};
    }
  }
  return box;
}

/// At most 3 n + 1 cells, whatever the shape of the box.
double cell_size_m(Point2 size, double count) {
  const double square = std::sqrt(size.x * size.y / count);
  const double longest = std::max(size.x, size.y);
  return longest > 0 ? std::max({square, longest / count, kPadM}) : 1;
}

bool in_reach(Segment2 ray) {
  return kCoordinateM.contains(ray.a.x) && kCoordinateM.contains(ray.a.y) && kCoordinateM.contains(ray.b.x) &&
         kCoordinateM.contains(ray.b.y);
}

}  // namespace

int WallIndex::column_of(double x) const {
  return static_cast<int>(std::clamp((x - box_.min.x) * per_m_, 0.0, columns_ - 1.0));
}

int WallIndex::row_of(double y) const {
  return static_cast<int>(std::clamp((y - box_.min.y) * per_m_, 0.0, rows_ - 1.0));
}

/// Calls visit(first, last) for every run of cells (both included) of one column that the line may touch. In
/// each column, widened by the pad, the line's own reach in y, widened too: where the line is steep the pad
/// along x moves y by more than rounding does, and where it is flat the pad along y covers it.
template <typename Visit>
void WallIndex::walk(Segment2 ordered_line, Visit&& visit) const {
  const auto [a, b] = ordered_line;
  const double low = std::min(a.y, b.y);
  const double high = std::max(a.y, b.y);
  if (b.x < box_.min.x - kPadM || a.x > box_.max.x + kPadM) return;
  if (high < box_.min.y - kPadM || low > box_.max.y + kPadM) return;
  const bool upright = b.x - a.x <= kPadM;
  const double slope = upright ? 0 : (b.y - a.y) / (b.x - a.x);
  const int last_column = column_of(b.x + kPadM);
  for (int column = column_of(a.x - kPadM); column <= last_column; ++column) {
    double from = low;
    double to = high;
    if (!upright) {
      const double left = box_.min.x + column * cell_m_ - kPadM;
      const double right = box_.min.x + (column + 1) * cell_m_ + kPadM;
      const double y_left = a.y + (std::clamp(left, a.x, b.x) - a.x) * slope;
      const double y_right = a.y + (std::clamp(right, a.x, b.x) - a.x) * slope;
      from = std::min(y_left, y_right);
      to = std::max(y_left, y_right);
    }
    if (to < box_.min.y - kPadM || from > box_.max.y + kPadM) continue;
    const auto base = static_cast<std::size_t>(column) * static_cast<std::size_t>(rows_);
    visit(base + static_cast<std::size_t>(row_of(from - kPadM)),
          base + static_cast<std::size_t>(row_of(to + kPadM)));
  }
}

WallIndex::WallIndex(std::span<const Segment2> walls) : walls_(walls.begin(), walls.end()) {
  if (walls_.empty()) return;
  box_ = box_of(walls_);
  const Point2 size = box_.max - box_.min;
  cell_m_ = cell_size_m(size, static_cast<double>(walls_.size()));
  per_m_ = 1 / cell_m_;
  columns_ = 1 + static_cast<int>(size.x / cell_m_);
  rows_ = 1 + static_cast<int>(size.y / cell_m_);

  // Counting sort: how many walls each cell has, where each cell begins, then the walls in their places.
  first_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  for (const Segment2 wall : walls_) {
    walk(ordered(wall), [&](std::size_t from, std::size_t to) {
      for (std::size_t cell = from; cell <= to; ++cell) ++first_[cell + 1];
    });
  }
  for (std::size_t cell = 1; cell < first_.size(); ++cell) first_[cell] += first_[cell - 1];
  members_.resize(first_.back());
  lines_.resize(first_.back());
  std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
  for (std::uint32_t position = 0; position < walls_.size(); ++position) {
    const Segment2 line = ordered(walls_[position]);
    walk(line, [&](std::size_t from, std::size_t to) {
      for (std::size_t cell = from; cell <= to; ++cell) {
        lines_[next[cell]] = line;
        members_[next[cell]++] = position;
      }
    });
  }
}

std::vector<std::uint32_t> WallIndex::crossings(Segment2 ray) const {
  if (walls_.empty()) return {};
  if (!in_reach(ray)) return scan_crossings(walls_, ray);
  const Segment2 line = ordered(ray);
  std::vector<std::uint32_t> found;
  found.reserve(32);  // one allocation for nearly every link
  walk(line, [&](std::size_t from, std::size_t to) {
    for (std::uint32_t k = first_[from]; k < first_[to + 1]; ++k) {
      if (crosses(line, lines_[k])) found.push_back(members_[k]);
    }
  });
  sort_unique(found);
  return found;
}

std::vector<std::uint32_t> WallIndex::candidates(Segment2 ray) const {
  std::vector<std::uint32_t> found;
  if (walls_.empty()) return found;
  if (!in_reach(ray)) {
    for (std::uint32_t position = 0; position < walls_.size(); ++position) found.push_back(position);
    return found;
  }
  walk(ordered(ray), [&](std::size_t from, std::size_t to) {
    for (std::uint32_t k = first_[from]; k < first_[to + 1]; ++k) found.push_back(members_[k]);
  });
  sort_unique(found);
  return found;
}

std::vector<std::uint32_t> scan_crossings(std::span<const Segment2> walls, Segment2 ray) {
  std::vector<std::uint32_t> found;
  for (std::uint32_t position = 0; position < walls.size(); ++position) {
    if (crosses(ray, walls[position])) found.push_back(position);
  }
  return found;
}

}  // namespace linkmargin
