#pragma once

#include "linkmargin/analysis/coverage/angle_table.hpp"
#include "linkmargin/analysis/coverage/level_grid.hpp"
#include "linkmargin/geometry/projection/panel_projection.hpp"
#include "linkmargin/link/mechanism/scene.hpp"

#include <optional>
#include <span>
#include <vector>

namespace linkmargin {

/// What chances need beside the loss, a figure for each cell: written.
struct DirectPathSpread {
  std::span<float> sigma_db;
  std::span<std::uint8_t> line_of_sight;  ///< 1 or 0, see LossBreakdown
};

/// What the straight line from one end to every cell of a level grid loses: distance and all that it crosses.
/// Ways round, echoes and shading by edges are left out. Where the scene counts none (`routes: off`, or any
/// other model than `walls`), a cell's figure is path_loss() between the end and the cell's centre.
///
/// Everything that stands in the way casts a projection on the grid's plane; a loss is added where a
/// projection begins along a row and taken off where it ends (geometry/projection/projection.hpp,
/// geometry/projection/panel_projection.hpp). The cost is that of the projections' outlines and the cells,
/// not of their product. Walls whose loss depends on the angle are counted by parallel walls of one material,
/// whose loss is the same function of the cell.
///
/// Accuracy: 1e-4 dB of path_loss() up to 500 dB (straight_map_test.cpp); above, the rounding of a float. A
/// centre on the very edge of a projection is counted as path_loss() counts it. Exact sums: no figure depends
/// on the number of threads or on the processor.
///
/// Prepared once for a scene, for any number of ends. Read-only after construction; safe to share between
/// threads. Keeps a reference to the scene.
class DirectPathMap {
 public:
  explicit DirectPathMap(const Scene& scene);

  /// Whether the figures come from projections. Otherwise path_loss() is asked for every cell, with all that
  /// it counts: where the model's floor term is no sum over floors and a slab lies between the heights
  /// (multi_wall, site_general by power loss), where it asks whether anything is in the way (site_general by
  /// coefficients), and where the ground reflects.
  bool uses_projection(Point3 end, double z_m) const;

  /// @param end      plan coordinates are snapped first
  /// @param threads  >= 1; changes nothing in the result
  /// @param loss_db  one for each cell: written
  /// @throws DomainError when loss_db has another size than the grid
  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db) const;

  /// The same with each cell's spread. Where projections are cast by a model that counts no wall, path_loss()
  /// is asked for every cell. Accuracy of the spread: 1e-4 dB.
  /// @throws DomainError when an array has another size than the grid
  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
            const DirectPathSpread& spread) const;

 private:
  friend class DirectPathCast;

  /// Panels, or plates, that lose the same in the direction of any one cell.
  struct Kind {
    std::optional<AngleTable> table;  ///< absent: each its own constant
    Point2 normal;                    ///< of panels
    std::uint32_t first = 0;          ///< panels, as positions in panels_
    std::uint32_t last = 0;
    std::vector<std::uint32_t> plates;  ///< as positions in plates_
  };

  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
            const DirectPathSpread* spread) const;
  void add_panels();
  void add_plates();
  void add_obstacles();

  const Scene* scene_;
  bool itemises_ = false;
  bool tabled_ = true;       // every loss that depends on the angle has a table
  std::vector<Kind> kinds_;  // the first: constants
  std::vector<UprightPanel> panels_;
  std::vector<std::int64_t> panel_steps_;
  std::vector<std::int64_t> panel_spreads_;  // see spread_steps_of()
  std::vector<LevelPlate> plates_;
  std::vector<std::int64_t> plate_steps_;
  std::vector<std::int64_t> plate_spreads_;
  std::vector<UprightPrism> obstacles_;
  std::vector<std::int64_t> obstacle_steps_;
  std::vector<std::int64_t> obstacle_spreads_;
};

}  // namespace linkmargin
