#include "linkmargin/analysis/coverage/adaptive_sampling.hpp"

#include "linkmargin/base/parallel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace linkmargin {
namespace {

int tiles_across(int cells) {
  return (cells + kTileCells - 1) / kTileCells;
}

Point2 centre_of(const LevelGrid& grid, int column, int row) {
  return {grid.corner.x + (column + 0.5) * grid.step_m, grid.corner.y + (row + 0.5) * grid.step_m};
}

/// The cells of one tile, with those of its upper and right neighbours beside it.
class Tile {
 public:
  Tile(const AdaptiveSampling& fill, const LevelGrid& grid, int column, int row)
      : fill_(fill), grid_(grid), column_(column), row_(row) {}

  void set(int x, int y, const MapCell& cell) {
    cells_[index(x, y)] = cell;
    known_[index(x, y)] = true;
  }

  /// Corners known; the side a power of two.
  void work_out(int x, int y, int side) {
    if (side == 1) return;
    if (side == 2) return work_out_last(x, y);
    const int half = side / 2;
    const std::array promised{as_promised(x, y, side, half, 0), as_promised(x, y, side, 0, half),
                              as_promised(x, y, side, side, half), as_promised(x, y, side, half, side),
                              as_promised(x, y, side, half, half)};  // all are found
    const bool even = std::ranges::find(promised, false) == promised.end();
    const bool fills = even && !fill_.parted(box(x, y, side));
    for (const auto& [dx, dy] : {std::pair{0, 0}, {half, 0}, {0, half}, {half, half}}) {
      if (fills) {
        fill_in(x + dx, y + dy, half);
      } else {
        work_out(x + dx, y + dy, half);
      }
    }
  }

  void put() const {
    for (int y = 0; y < kTileCells && row_ + y < grid_.rows; ++y) {
      for (int x = 0; x < kTileCells && column_ + x < grid_.columns; ++x) {
        const std::size_t cell =
            static_cast<std::size_t>(row_ + y) * static_cast<std::size_t>(grid_.columns) +
            static_cast<std::size_t>(column_ + x);
        fill_.put(cell, cells_[index(x, y)]);
      }
    }
  }

 private:
  static std::size_t index(int x, int y) { return static_cast<std::size_t>(y * (kTileCells + 1) + x); }

  Box2 box(int x, int y, int side) const {
    return {centre_of(grid_, column_ + x, row_ + y), centre_of(grid_, column_ + x + side, row_ + y + side)};
  }

  const MapCell& found(int x, int y) {
    if (!known_[index(x, y)]) set(x, y, fill_.find(centre_of(grid_, column_ + x, row_ + y)));
    return cells_[index(x, y)];
  }

  /// Two cells wide: between two cells that are alike none is asked for, unless something parts them.
  void work_out_last(int x, int y) {
    const bool fills = !fill_.parted(box(x, y, 2));
    between(x + 1, y, 1, 0, fills);
    between(x, y + 1, 0, 1, fills);
    between(x + 2, y + 1, 0, 1, fills);
    between(x + 1, y + 2, 1, 0, fills);
    between(x + 1, y + 1, 1, 0, fills && near(cells_[index(x + 1, y)], cells_[index(x + 1, y + 2)]));
  }

  /// The cell in the middle of two, dx and dy to either side of it.
  void between(int x, int y, int dx, int dy, bool fills) {
    if (known_[index(x, y)]) return;
    const MapCell &one = cells_[index(x - dx, y - dy)], &other = cells_[index(x + dx, y + dy)];
    if (!fills || !near(one, other)) {
      found(x, y);
      return;
    }
    const auto mean = [&](float MapCell::*of) { return (one.*of + other.*of) / 2; };
    set(x, y,
        {mean(&MapCell::path_loss_db), mean(&MapCell::sigma_db), one.hub, mean(&MapCell::k_db),
         mean(&MapCell::onward), mean(&MapCell::local_db)});
  }

  bool near(const MapCell& one, const MapCell& other) const {
    const auto close = [&](float a, float b) { return std::abs(a - b) <= fill_.within_db; };
    return one.hub == other.hub && close(one.path_loss_db, other.path_loss_db) &&
           close(one.sigma_db, other.sigma_db) && close(one.local_db, other.local_db) &&
           close(one.k_db, other.k_db);
  }

  /// What a block's corners say of the cell dx, dy from its lower left one.
  MapCell promised(int x, int y, int side, int dx, int dy) const {
    const float across = static_cast<float>(dx) / static_cast<float>(side);
    const float up = static_cast<float>(dy) / static_cast<float>(side);
    const auto blend = [&](float MapCell::*of) {
      const auto at = [&](int cx, int cy) { return cells_[index(x + cx, y + cy)].*of; };
      const float low = at(0, 0) + across * (at(side, 0) - at(0, 0));
      const float high = at(0, side) + across * (at(side, side) - at(0, side));
      return low + up * (high - low);
    };
    return {blend(&MapCell::path_loss_db), blend(&MapCell::sigma_db), cells_[index(x, y)].hub,
            blend(&MapCell::k_db),         blend(&MapCell::onward),   blend(&MapCell::local_db)};
  }

  bool as_promised(int x, int y, int side, int dx, int dy) {
    const MapCell& there = found(x + dx, y + dy);
    const auto same = [&](int cx, int cy) { return cells_[index(x + cx, y + cy)].hub == there.hub; };
    return same(side, 0) && same(0, side) && same(side, side) && near(there, promised(x, y, side, dx, dy));
  }

  void fill_in(int x, int y, int side) {
    for (int dy = 0; dy <= side; ++dy) {
      for (int dx = 0; dx <= side; ++dx) {
        if (!known_[index(x + dx, y + dy)]) cells_[index(x + dx, y + dy)] = promised(x, y, side, dx, dy);
      }
    }
  }

  const AdaptiveSampling& fill_;
  const LevelGrid& grid_;
  int column_;
  int row_;
  std::array<MapCell, (kTileCells + 1) * (kTileCells + 1)> cells_{};
  std::array<bool, (kTileCells + 1) * (kTileCells + 1)> known_{};
};

}  // namespace

std::size_t AdaptiveSampling::steps(const LevelGrid& grid) {
  return static_cast<std::size_t>(2 * tiles_across(grid.rows) + 1);
}

void AdaptiveSampling::fill(const LevelGrid& grid, int threads, Progress& progress) const {
  const int across = tiles_across(grid.columns);
  const int up = tiles_across(grid.rows);
  const auto corner = [&](int x, int y) { return static_cast<std::size_t>(y * (across + 1) + x); };
  std::vector<MapCell> corners(corner(0, up + 1));
  parallel_for(static_cast<std::size_t>(up) + 1, threads, [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x <= across; ++x)
      corners[corner(x, y)] = find(centre_of(grid, x * kTileCells, y * kTileCells));
    progress.step();
  });
  parallel_for(static_cast<std::size_t>(up), threads, [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < across; ++x) {
      Tile tile(*this, grid, x * kTileCells, y * kTileCells);
      for (const auto& [dx, dy] : {std::pair{0, 0}, {1, 0}, {0, 1}, {1, 1}})
        tile.set(dx * kTileCells, dy * kTileCells, corners[corner(x + dx, y + dy)]);
      tile.work_out(0, 0, kTileCells);
      tile.put();
    }
    progress.step();
  });
}

}  // namespace linkmargin
