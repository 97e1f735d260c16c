#pragma once

#include "linkmargin/geometry/region_grid.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace linkmargin {

class Scene;
struct Panel;

/// A part of a room in which echoes are taken as evenly spread.
struct EchoCell {
  std::uint32_t storey = 0;
  std::uint32_t region = 0;  ///< of the storey's grid
  /// The cells of the same room to the lower left, below, ... to the upper right, itself in the middle; kNone
  /// where there is none.
  std::array<std::uint32_t, 9> around{};
  Point2 middle;        ///< of its block
  Point2 size;          ///< of its block
  double area_m2 = 0;   ///< of its floor
  double height_m = 0;  ///< clear
};

/// One storey of a scene cut into cells.
struct EchoStorey {
  double floor_m = 0;
  double ceiling_m = 0;
  std::vector<Panel> panels;  ///< those of the scene that stand in it, and its joints: the grid's walls
  RegionGrid grid;
  std::vector<std::uint32_t> cell_of;  ///< for each node; kNone out of doors
};

/// The closed rooms of a scene cut into cells of about four thirds of a mean free path (the width at which
/// the exchange between neighbours is that of the diffusion of sound in rooms, coefficient c 4V/(3S): Picaut,
/// Simon, Polack, Acustica 83 (1997) 614). All storeys have the same layout of nodes.
struct EchoCells {
  std::vector<EchoStorey> storeys;
  std::vector<EchoCell> cells;
  bool too_many = false;  ///< there are more closed rooms than cells were allowed, and so no cells

  /// @param most_cells  wider cells are taken where there would be more; none at all when the rooms alone are
  /// more
  static EchoCells of(const Scene& scene, std::size_t most_cells);

  struct Place {
    std::uint32_t storey;
    std::uint32_t cell;
  };
  /// The cell that holds a point; nothing out of doors.
  std::optional<Place> locate(Point3 p) const;
};

}  // namespace linkmargin
