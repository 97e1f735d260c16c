#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/link/building/slab_bound.hpp"
#include "linkmargin/link/mechanism/scene.hpp"

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace linkmargin {

/// Where the cells of a map lie: a level plane in square tiles. What no link to a tile can fall short of is
/// found once for all of its cells. Safe to share between threads; keeps a reference to the scene.
class MapPlane {
 public:
  /// @param box     of the cells
  /// @param step_m  between them, > 0
  MapPlane(const Scene& scene, const Box2& box, double z_m, double step_m);

  /// Never more than what the last leg of a way passes on its straight line from an aperture to a cell.
  /// @param left  on which side of the aperture the cell lies
  double least_passed_db(Point3 cell, std::uint32_t aperture, bool left) const;

 private:
  /// What every line from a point into a box of the plane passes of walls, but those of one line of walls.
  double least_walls_db(Point3 from, const Box2& tile, std::uint32_t without_line) const;

  const Scene& scene_;
  SlabBound slabs_;
  std::vector<double> least_db_;  // of each barrier
  Box2 box_;
  double z_m_ = 0;
  double tile_m_ = 0;
  std::size_t columns_ = 0;
  std::size_t rows_ = 0;
  mutable std::vector<std::atomic<float>> walls_db_;  // of each tile and side of an aperture; NaN: not yet
};

}  // namespace linkmargin
