#pragma once

#include "linkmargin/analysis/angle_table.hpp"
#include "linkmargin/geometry/shadow_panels.hpp"
#include "linkmargin/link/scene.hpp"

#include <optional>
#include <span>
#include <vector>

namespace linkmargin {

/// Cells of a storey at one height: `columns` by `rows` squares, in rows from the lower left.
struct LevelGrid {
  Point2 corner;  ///< lower left corner of the first cell
  double step_m = 0.05;
  int columns = 0;
  int rows = 0;
  double z_m = 0;  ///< above the site's zero

  std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
  Point3 centre(std::size_t cell) const {
    const auto across = static_cast<std::size_t>(columns);
    return {corner.x + (static_cast<double>(cell % across) + 0.5) * step_m,
            corner.y + (static_cast<double>(cell / across) + 0.5) * step_m, z_m};
  }
};

/// What chances need beside the loss, a figure for each cell: written.
struct StraightSpread {
  std::span<float> sigma_db;
  std::span<std::uint8_t> in_sight;  ///< 1 or 0, see LossBreakdown
};

/// What the straight line from one end to every cell of a level grid loses: distance and all that it crosses.
/// Ways round, echoes and shading by edges are left out. Where the scene counts none (`routes: off`, or any
/// other model than `walls`), a cell's figure is path_loss() between the end and the cell's centre.
///
/// Everything that stands in the way casts a shadow on the grid's plane; a loss is added where a shadow
/// begins along a row and taken off where it ends (geometry/shadow.hpp, geometry/shadow_panels.hpp). The cost
/// is that of the shadows' outlines and the cells, not of their product. Walls whose loss depends on the
/// angle are counted by parallel walls of one material, whose loss is the same function of the cell.
///
/// Accuracy: 1e-4 dB of path_loss() up to 500 dB (straight_map_test.cpp); above, the rounding of a float. A
/// centre on the very edge of a shadow is counted as path_loss() counts it. Exact sums: no figure depends on
/// the number of threads or on the processor.
///
/// Prepared once for a scene, for any number of ends. Read-only after construction; safe to share between
/// threads. Keeps a reference to the scene.
class StraightMap {
 public:
  explicit StraightMap(const Scene& scene);

  /// Whether the figures come from shadows. Otherwise path_loss() is asked for every cell, with all that it
  /// counts: where the model's floor term is no sum over floors and a slab lies between the heights
  /// (multi_wall, site_general by power loss), where it asks whether anything is in the way (site_general by
  /// coefficients), and where the ground reflects.
  bool casts_shadows(Point3 end, double z_m) const;

  /// @param end      plan coordinates are snapped first
  /// @param threads  >= 1; changes nothing in the result
  /// @param loss_db  one for each cell: written
  /// @throws DomainError when loss_db has another size than the grid
  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db) const;

  /// The same with each cell's spread. Where shadows are cast by a model that counts no wall, path_loss() is
  /// asked for every cell. Accuracy of the spread: 1e-4 dB.
  /// @throws DomainError when an array has another size than the grid
  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
            const StraightSpread& spread) const;

 private:
  friend class StraightCast;

  /// Panels, or plates, that lose the same in the direction of any one cell.
  struct Kind {
    std::optional<AngleTable> table;  ///< absent: each its own constant
    Point2 normal;                    ///< of panels
    std::uint32_t first = 0;          ///< panels, as positions in panels_
    std::uint32_t last = 0;
    std::vector<std::uint32_t> plates;  ///< as positions in plates_
  };

  void find(Point3 end, const LevelGrid& grid, int threads, std::span<float> loss_db,
            const StraightSpread* spread) const;
  void add_panels();
  void add_plates();
  void add_bodies();

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
  std::vector<UprightPrism> bodies_;
  std::vector<std::int64_t> body_steps_;
  std::vector<std::int64_t> body_spreads_;
};

}  // namespace linkmargin
