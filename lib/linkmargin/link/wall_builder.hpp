#pragma once

#include "linkmargin/link/scene.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// As a person would say it: "wall between shop and workshop", "outer wall of shop", "yard wall".
std::string wall_name(const WallPiece& piece);

/// How far beyond a free end or the top of a low wall its edge still shades a line that passes clear of it.
/// Beyond, the edge takes under 0.1 dB from any link of a site.
inline constexpr double kShadeReachM = 3;

/// A wall's end nearer than this to another wall is joined to it, and an opening's head nearer than this to
/// the ceiling reaches it.
inline constexpr double kJointM = 0.15;

/// Over the top of a wall under a roof at most half of a wave's amplitude passes: eaves count only where the wall
/// loses more than the roof by this.
inline constexpr double kEavesMatterDb = 6;

/// Turns the wall pieces of one storey into walls, panels and gaps of a scene.
class WallBuilder {
 public:
  /// An opening on a piece of wall, by its place along it.
  struct Cut {
    double from = 0;  ///< fractions of the piece's length
    double to = 0;
    const Opening* opening = nullptr;
    std::uint32_t leaf = kNone;
  };

  /// How far the storey's walls reach into the slabs under and over it, above the site's zero: to their
  /// middles, where a slab counts, so that no line slips out between wall and slab.
  struct Reach {
    double bottom_m = 0;
    double top_m = 0;  ///< for walls that reach the ceiling
  };

  WallBuilder(Scene& scene, const Storey& storey, const std::vector<WallPiece>& plan, Reach reach)
      : scene_(scene), storey_(storey), plan_(plan), reach_(reach) {}

  /// A piece becomes a chain of panels whose joints are snapped, so that each ray meets the chain as one
  /// wall.
  /// @param element what it is made of; kNone: open plan
  /// @param cuts    sorted along the piece
  /// @param roof    what closes the eaves over it; kNone: no roof ends on it
  void add(const WallPiece& piece, std::uint32_t element, const std::vector<Cut>& cuts, std::uint32_t roof);

 private:
  void add_panel(Segment2 base, double bottom_m, double top_m, std::uint32_t element);
  void add_gap(Gap gap);
  void add_opening(const Cut& cut, Segment2 base, double top_m, std::uint32_t element);
  void add_free_ends(const WallPiece& piece);
  void add_top(const WallPiece& piece);
  void add_eaves(const WallPiece& piece, std::uint32_t element, std::uint32_t roof);
  void add_joint(const WallPiece& piece, Point2 end, const WallPiece& other, std::uint32_t element);

  /// The wall at which an end stops; null for a free end.
  const WallPiece* joined_to(const WallPiece& piece, Point2 end) const;

  Scene& scene_;
  const Storey& storey_;
  const std::vector<WallPiece>& plan_;
  Reach reach_;
  Point2 normal_;
  std::uint32_t wall_ = kNone;
};

}  // namespace linkmargin
