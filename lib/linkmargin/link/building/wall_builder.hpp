#pragma once

#include "linkmargin/link/building/parts.hpp"
#include "linkmargin/link/building/straight_walls.hpp"
#include "linkmargin/link/building/wall_ends.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <span>
#include <vector>

namespace linkmargin {

/// Over the top of a wall under a roof at most half of a wave's amplitude passes: eaves count only where the
/// wall loses more than the roof by this.
inline constexpr double kEavesMatterDb = 6;  ///< doubled, halved: 0.2, 0 dB at most

/// Turns the wall pieces of one storey into walls, panels and apertures of a building.
class WallBuilder {
 public:
  /// An opening on a piece of wall, by its place along it.
  struct Cut {
    double from = 0;  ///< fractions of the piece's length
    double to = 0;
    const Opening* opening = nullptr;
    std::uint32_t leaf = kNone;
  };

  /// What a piece of the plan is made of, and what is cut out of it.
  struct Made {
    std::uint32_t barrier = kNone;  ///< none: open plan
    std::vector<Cut> cuts;          ///< sorted along the piece
  };

  /// How far the storey's walls reach into the slabs under and over it, above the site's zero: to their
  /// middles, where a slab counts, so that no line slips out between wall and slab.
  struct Reach {
    double bottom_m = 0;
    double top_m = 0;  ///< for walls that reach the ceiling
  };

  WallBuilder(BuildingParts& parts, const Storey& storey, const std::vector<WallPiece>& plan, Reach reach)
      : parts_(parts), storey_(storey), plan_(plan), reach_(reach), wall_of_(plan.size(), kNone) {}

  /// A straight wall becomes a chain of panels whose joints are snapped, so that each ray meets the chain as
  /// one wall.
  /// @param parts  of straight_walls()
  /// @param made   by piece of the plan
  /// @param roof   what closes the eaves over it; kNone: no roof ends on it
  void add(const std::vector<StraightPart>& parts, std::span<const Made> made, std::uint32_t roof);

 private:
  std::uint32_t add_wall(Wall wall);
  void add_panel(Segment2 base, double bottom_m, double top_m, std::uint32_t barrier);
  double barrier_db(std::uint32_t barrier) const;
  double wall_db() const;
  void add_aperture(Aperture aperture);
  void add_opening(const Cut& cut, Segment2 base, double top_m, std::uint32_t barrier);
  void add_part(StraightPart part, const Made& made, double top_m);
  void add_end(std::size_t piece, bool at_b, const WallEnd& end);
  void add_between(std::size_t piece, bool at_b, const WallEnd& end);
  Aperture aperture_over(const WallPiece& piece, PartPiece over, double bottom_m) const;
  void add_top(const WallPiece& piece);
  void add_eaves(const WallPiece& piece, std::uint32_t roof);
  void add_joint(const WallPiece& piece, Point2 end, const WallPiece& other, std::uint32_t barrier);
  void join_lines(std::uint32_t one, std::uint32_t other);

  BuildingParts& parts_;
  const Storey& storey_;
  const std::vector<WallPiece>& plan_;
  Reach reach_;
  Point2 normal_;
  std::uint32_t wall_ = kNone;
  std::vector<std::uint32_t> wall_of_;  // of each piece of the plan
};

}  // namespace linkmargin
