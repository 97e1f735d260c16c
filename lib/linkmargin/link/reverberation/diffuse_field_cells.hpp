#pragma once

#include "linkmargin/geometry/arrangement.hpp"
#include "linkmargin/link/reverberation/block_axis.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace linkmargin {

class Building;
struct Panel;

/// A closed room of a building, or several that nothing parts, in a frame of its own: along its walls, from
/// the middle of their box in that frame. The frame turns with the sheet.
struct DiffuseFieldRegion {
  std::uint32_t storey = 0;
  std::uint32_t face = 0;  ///< of the storey's walls
  double area_m2 = 0;
  double edge_m = 0;    ///< length of wall round it and in it
  bool cavity = false;  ///< the air between two leaves: one cell
  Point2 middle{};
  Point2 along{};                   ///< length 1
  std::array<BlockAxis, 2> axes{};  ///< the blocks along and across

  /// Along and across, from the low ends of the two axes.
  Point2 in_frame(Point2 p) const;
  Point2 on_sheet(Point2 in_frame) const;
};

/// A part of a room in which echoes are taken as evenly spread.
struct DiffuseFieldCell {
  std::uint32_t storey = 0;
  std::uint32_t region = 0;           ///< position in DiffuseFieldCells::regions
  std::uint32_t face = 0;             ///< of the storey's cut plan
  std::array<int, 2> interval{0, 0};  ///< of its region's axes
  double area_m2 = 0;                 ///< of its floor
  double height_m = 0;                ///< clear

  std::vector<std::uint32_t>
      near{};  ///< cells of the same room that are reached from it without a turn back; itself first
};

/// Where two cells of one room meet.
struct DiffuseFieldJoint {
  std::uint32_t one = 0;
  std::uint32_t other = 0;
  double length_m = 0;
  /// What parts them, 1 for two whole blocks: 0 where the cut is only about to be made, or one of the two is
  /// no more than a sliver.
  double resistance = 1;
};

/// One storey of a building cut into cells.
struct DiffuseFieldStorey {
  double floor_m = 0;
  double ceiling_m = 0;
  std::vector<Panel> panels;  ///< those of the building that stand in it, and its joints
  Arrangement plan;           ///< of the panels and of the cuts between blocks, which follow the panels
  std::vector<std::uint32_t> cell_of;  ///< for each face of the plan; kNone out of doors
};

/// The closed rooms of a building cut into cells of about four thirds of a mean free path (the width at which
/// the exchange between neighbours is that of the diffusion of sound in rooms, coefficient c 4V/(3S): Picaut,
/// Simon, Polack, Acustica 83 (1997) 614). Cells do not depend on how the sheet is turned, and follow small
/// changes of the walls steadily: a cut is eased in where the number of blocks changes, and slivers count
/// with their neighbours.
struct DiffuseFieldCells {
  std::vector<DiffuseFieldStorey> storeys;
  std::vector<DiffuseFieldRegion> regions;
  std::vector<DiffuseFieldCell> cells;
  std::vector<DiffuseFieldJoint> joints;
  bool too_many = false;  ///< there are more closed rooms than cells were allowed, and so no cells

  /// @param most_cells  wider cells are taken where there would be more; none at all when the rooms alone are
  /// more
  static DiffuseFieldCells of(const Building& building, std::size_t most_cells);

  struct Place {
    std::uint32_t storey;
    std::uint32_t cell;
  };
  /// The cell that holds a point; nothing out of doors. On a wall, as contains() has it.
  std::optional<Place> locate(Point3 p) const;

  struct Share {
    std::uint32_t cell;
    double share;
  };
  /// How a point in a cell takes part in the cells around: steadily from block to block. The shares sum to 1.
  std::vector<Share> shares(const Place& place, Point2 p) const;
};

}  // namespace linkmargin
