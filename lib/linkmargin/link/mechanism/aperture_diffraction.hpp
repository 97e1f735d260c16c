#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// How much of the power of free space over the straight line from a to b comes through an aperture, its leaf
/// left out: the product of an opening between the upright edges and one between the level edges (Fresnel's
/// approximation). Unchanged by swapping a and b, bit for bit. 0 when both stand on one side of the wall.
double aperture_power_fraction(const Aperture& aperture, Point3 a, Point3 b, double wavelength_m);

/// What bends in an aperture over what its leaf lets through: aperture_contrast() to its wall, both at right
/// angles.
double contrast(const Building& building, const Aperture& aperture);

/// What is not known of a bend's loss, for each decibel of it: polarisation, and what Fresnel's approximation
/// leaves out. The exact fields of both polarisations behind slits in metal
/// (tests/published/slits_moments.csv) lie so far from aperture_power_fraction(), rms, at any depth from 8 to
/// 30 dB.
inline constexpr double kBendSpread = 0.11;

/// @param loss_db of a bend over free space along the straight line; under 0 it has no spread
constexpr double bend_sigma_db(double loss_db) {
  return loss_db > 0 ? kBendSpread * loss_db : 0;
}

/// Less than this of the power is taken for this: a loss stays a number.
inline constexpr double kLeastShare = 1e-12;

/// What a wall and its apertures together take from a line that meets it.
struct ApertureDiffraction {
  double loss_db = 0;  ///< in all; can be slightly negative where an edge is clear by about one zone
  std::uint32_t aperture = kNone;  ///< the aperture through which most comes; kNone: through the wall itself
  std::uint32_t barrier = kNone;   ///< what is passed there: wall, leaf, or nothing
  double element_db = 0;           ///< what that costs by itself
  double sigma_db = 0;             ///< and its spread
  double power_fraction = 1;       ///< of the power that passes the wall and its apertures, what passes there
};

/// What comes through the apertures of walls from one point to another: found once for each wall, however
/// often it is met by ways between the two. Keeps a reference to the building; for one thread.
class ApertureCache {
 public:
  ApertureCache(const Building& building, Point3 a, Point3 b) : building_(building), a_(a), b_(b) {}

  const Building& building() const { return building_; }

  /// aperture_power_fraction() of each aperture of a line of walls, in the line's order. Valid until the next
  /// call.
  std::span<const double> of(std::uint32_t line);

 private:
  struct Known {
    std::uint32_t line;
    std::size_t first;  ///< in shares_
  };
  const Building& building_;
  Point3 a_;
  Point3 b_;
  std::vector<Known> known_;
  std::vector<double> shares_;
};

/// The powers through the wall and through each of its apertures, added: what an aperture lets through, the
/// wall keeps back. So the loss changes gradually where a line moves from the wall into the doorway, and a
/// metal wall passes what its doorway does.
ApertureDiffraction aperture_diffraction(ApertureCache& shares, const Crossing& crossing);

/// What an obstacle takes from a line that meets it.
struct ObstacleDiffraction {
  double loss_db = 0;
  double power_fraction = 1;  ///< of the power that passes it, what passes through
};

/// What passes by its two sides and over its top is added: each as round an edge that stands alone, as
/// powers. Its own loss where the line is upright. Where a line moves clear of the obstacle, the loss ends at
/// 6 dB at most.
ObstacleDiffraction obstacle_diffraction(const Building& building, Point3 a, Point3 b,
                                         const Crossing& crossing);

}  // namespace linkmargin
