#include "linkmargin/site/layout/grid_layout.hpp"

#include "linkmargin/site/layout/cell_union.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::layout {
namespace {

/// Where a cell of an earlier row ends, and whose it is.
struct CellEnd {
  double at_m = 0;
  std::string room;
  std::string next;
};

/// What a wall between two cells adds to the size of the first, measured inside.
double half_wall_m(const std::string& own, const std::string& other,
                   const std::optional<MeasuredInside>& inside) {
  if (!inside || own == kOutside || own == other) return 0;
  return (other == kOutside ? inside->outer_m : inside->inner_m) / 2;
}

class Grid {
 public:
  explicit Grid(const std::optional<MeasuredInside>& inside) : inside_(inside) {}

  void add(const GridRow& row, std::size_t number, std::size_t count) {
    const double below_m = number == 0 ? half(true) : half(false);
    const double above_m = number + 1 == count ? half(true) : half(false);
    const double top_m = front_m_ + row.depth_m + below_m + above_m;
    double left_m = 0;
    std::vector<CellEnd> ends;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const GridCell& cell = row.cells[i];
      const std::string before = i == 0 ? kOutside : row.cells[i - 1].room;
      const std::string after = i + 1 == row.cells.size() ? kOutside : row.cells[i + 1].room;
      const double right_m = left_m + cell.width_m + half_wall_m(cell.room, before, inside_) +
                             half_wall_m(cell.room, after, inside_);
      const double end_m = closed(right_m, cell);
      take(cell.room, number, {{left_m, front_m_}, {end_m, front_m_}, {end_m, top_m}, {left_m, top_m}});
      ends.push_back({end_m, cell.room, after});
      left_m = end_m;
    }
    ends_.insert(ends_.end(), ends.begin(), ends.end());
    front_m_ = top_m;
  }

  GridLayout result() && {
    for (std::size_t i = 0; i < layout_.rooms.size(); ++i)
      layout_.rooms[i].corners = united(cells_[i]).value_or(Polygon2());
    return std::move(layout_);
  }

 private:
  double half(bool outer) const { return inside_ ? (outer ? inside_->outer_m : inside_->inner_m) / 2 : 0; }

  double closed(double end_m, const GridCell& cell) {
    const CellEnd* best = nullptr;
    for (const CellEnd& end : ends_) {
      const double away_m = std::abs(end.at_m - end_m);
      if (away_m <= kCloseM && (best == nullptr || away_m < std::abs(best->at_m - end_m))) best = &end;
    }
    if (best == nullptr) return end_m;
    if (std::abs(best->at_m - end_m) > kWeldM && cell.room != kOutside) {
      layout_.closed.push_back({cell.room, best->room == cell.room ? best->next : best->room, true,
                                cell.width_m, cell.width_m + best->at_m - end_m});
    }
    return best->at_m;
  }

  void take(const std::string& name, std::size_t row, Polygon2 cell) {
    if (name == kOutside) return;
    for (Point2& corner : cell) corner = snapped(corner);
    const auto room = std::ranges::find(layout_.rooms, name, &GridRoom::name);
    const auto position = static_cast<std::size_t>(room - layout_.rooms.begin());
    if (room == layout_.rooms.end()) {
      layout_.rooms.push_back({name, {}, row});
      cells_.emplace_back();
    }
    cells_[position].push_back(std::move(cell));
  }

  const std::optional<MeasuredInside>& inside_;
  double front_m_ = 0;
  std::vector<CellEnd> ends_;  // of the rows before
  std::vector<std::vector<Polygon2>> cells_;
  GridLayout layout_;
};

}  // namespace

GridLayout lay_out_grid(std::span<const GridRow> rows, const std::optional<MeasuredInside>& inside) {
  Grid grid(inside);
  for (std::size_t i = 0; i < rows.size(); ++i) grid.add(rows[i], i, rows.size());
  return std::move(grid).result();
}

}  // namespace linkmargin::layout
