#pragma once

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// How much of the power of free space over the straight line from a to b comes through a gap, its leaf left
/// out: the product of an opening between the upright edges and one between the level edges (Fresnel's
/// approximation). Unchanged by swapping a and b, bit for bit. 0 when both stand on one side of the wall.
double gap_share(const Gap& gap, Point3 a, Point3 b, double wavelength_m);

/// What a wall and its gaps together take from a line that meets it.
struct Shading {
  double loss_db = 0;         ///< in all; can be slightly negative where an edge is clear by about one zone
  std::uint32_t gap = kNone;  ///< the gap through which most comes; kNone: through the wall itself
  std::uint32_t element = kNone;  ///< what is passed there: wall, leaf, or nothing
  double element_db = 0;          ///< what that costs by itself
  double sigma_db = 0;            ///< and its spread
  double share = 1;               ///< of the power that passes the wall and its gaps, what passes there
};

/// What comes through the gaps of walls from one point to another: found once for each wall, however often it
/// is met by ways between the two. Keeps a reference to the scene; for one thread.
class GapShares {
 public:
  GapShares(const Scene& scene, Point3 a, Point3 b) : scene_(scene), a_(a), b_(b) {}

  const Scene& scene() const { return scene_; }

  /// gap_share() of each gap of a line of walls, in the line's order. Valid until the next call.
  std::span<const double> of(std::uint32_t line);

 private:
  struct Known {
    std::uint32_t line;
    std::size_t first;  ///< in shares_
  };
  const Scene& scene_;
  Point3 a_;
  Point3 b_;
  std::vector<Known> known_;
  std::vector<double> shares_;
};

/// The powers through the wall and through each of its gaps, added: what a gap lets through, the wall keeps
/// back. So the loss changes gradually where a line moves from the wall into the doorway, and a metal wall
/// passes what its doorway does.
Shading shading(GapShares& shares, const Crossing& crossing);

/// What an obstacle takes from a line that meets it.
struct BodyShading {
  double loss_db = 0;
  double share = 1;  ///< of the power that passes it, what passes through
};

/// What passes by its two sides and over its top is added: each as round an edge that stands alone, as
/// powers. Its own loss where the line is upright. Where a line moves clear of the obstacle, the loss ends at
/// 6 dB at most.
BodyShading body_shading(const Scene& scene, Point3 a, Point3 b, const Crossing& crossing);

}  // namespace linkmargin
