#include "linkmargin/site/layout/grid_layout.hpp"

#include "linkmargin/site/layout/cell_union.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <unordered_map>

namespace linkmargin::layout {
namespace {

/// Whose cell of an earlier row ends at a place, and what follows it.
struct CellEnd {
  std::string room;
  std::string next;
};
using CellEnds = std::map<double, CellEnd>;  // by the place

/// What a wall between two cells adds to the size of the first, measured inside.
double half_wall_m(const std::string& own, const std::string& other,
                   const std::optional<MeasuredInside>& inside) {
  if (!inside || own == kOutside || own == other) return 0;
  return inside->wall_m(own, other) / 2;
}

class Grid {
 public:
  explicit Grid(const std::optional<MeasuredInside>& inside) : inside_(inside) {}

  void add(const GridRow& row, std::size_t number, std::size_t count) {
    const double below_m = number == 0 ? half(true) : half(false);
    const double above_m = number + 1 == count ? half(true) : half(false);
    const double top_m = front_m_ + row.depth_m + below_m + above_m;
    double left_m = 0;
    CellEnds ends;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const GridCell& cell = row.cells[i];
      const std::string before = i == 0 ? kOutside : row.cells[i - 1].room;
      const std::string after = i + 1 == row.cells.size() ? kOutside : row.cells[i + 1].room;
      const double right_m = left_m + cell.width_m + half_wall_m(cell.room, before, inside_) +
                             half_wall_m(cell.room, after, inside_);
      const double end_m = closed(right_m, cell);
      take(cell.room, number, {{left_m, front_m_}, {end_m, front_m_}, {end_m, top_m}, {left_m, top_m}});
      ends.emplace(end_m, CellEnd{cell.room, after});
      left_m = end_m;
    }
    ends_.merge(ends);
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
    auto best = ends_.lower_bound(end_m);
    const bool before_is_nearer =
        best != ends_.begin() &&
        (best == ends_.end() || end_m - std::prev(best)->first <= best->first - end_m);
    if (before_is_nearer) --best;
    if (best == ends_.end() || std::abs(best->first - end_m) > kCloseM) return end_m;
    const auto& [at_m, end] = *best;
    if (std::abs(at_m - end_m) > kWeldM && cell.room != kOutside) {
      layout_.closed.push_back({cell.room, end.room == cell.room ? end.next : end.room, true, cell.width_m,
                                cell.width_m + at_m - end_m});
    }
    return at_m;
  }

  void take(const std::string& name, std::size_t row, Polygon2 cell) {
    if (name == kOutside) return;
    for (Point2& corner : cell) corner = snapped(corner);
    const auto [room, is_new] = positions_.emplace(name, layout_.rooms.size());
    if (is_new) {
      layout_.rooms.push_back({name, {}, row});
      cells_.emplace_back();
    }
    cells_[room->second].push_back(std::move(cell));
  }

  const std::optional<MeasuredInside>& inside_;
  double front_m_ = 0;
  CellEnds ends_;                                           // of the rows before
  std::unordered_map<std::string, std::size_t> positions_;  // of the rooms
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
