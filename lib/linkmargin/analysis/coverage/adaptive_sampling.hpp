#pragma once

#include "linkmargin/analysis/coverage/level_grid.hpp"
#include "linkmargin/base/progress.hpp"
#include "linkmargin/geometry/box.hpp"

#include <cstdint>
#include <functional>

namespace linkmargin {

/// What a map holds of one cell.
struct MapCell {
  float path_loss_db = 0;
  float sigma_db = 0;
  std::uint16_t hub = 0;
  float k_db = 0;      ///< of the fading
  float onward = 1;    ///< CoverageMap::onward_probability
  float local_db = 0;  ///< the part of sigma_db that is a matter of the place; asked for with readings only
};

/// A map whose cells are dear to find, most of them filled in between others.
///
/// Tiles of kTileCells a side are halved again and again until a block's middle and the middles of its sides
/// are what its corners promise, or it is two cells wide; then the cells between are filled in. Corners
/// promise a plane (bilinear): loss, spreads and K to within_db, one hub. A block that is
/// parted is halved whatever its corners say. In one two cells wide that is not, a
/// cell between two that differ by no more than within_db is their mean.
///
/// Accuracy: within_db where the field is as smooth between the spots looked at as it is on them. That is no
/// bound: what is narrower than a quarter of a block and no part of `parted` may be missed. Measured in
/// docs/methods/detours.md.
struct AdaptiveSampling {
  double within_db = 0;
  /// The centre of a cell, also of those past the grid's upper and right end: one tile goes past it.
  std::function<MapCell(Point2 centre)> find;
  std::function<bool(const Box2& block)> parted;  ///< whether something ends or stands in a block
  std::function<void(std::size_t cell, const MapCell& value)> put;

  /// `find`, `parted` and `put` are called from several threads; `put` once for every cell of the grid.
  /// @param threads >= 1; changes nothing in the result
  void fill(const LevelGrid& grid, int threads, Progress& progress) const;

  /// How many steps of progress a grid takes.
  static std::size_t steps(const LevelGrid& grid);
};

inline constexpr int kTileCells = 16;

}  // namespace linkmargin
