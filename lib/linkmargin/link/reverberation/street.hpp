#pragma once

#include "linkmargin/geometry/point.hpp"

#include <Eigen/Core>

namespace linkmargin {

/// The space between a building and what stands opposite: its sides are outer walls, what lies under it is
/// ground, over it sky, and its two ends are open.
struct Street {
  double width_m = 0;
  double length_m = 0;
  double height_m = 0;

  /// Flux per power sent into it, once that has been reflected, 1/m2: evenly filled, walls and ground
  /// reflecting kMasonryReflects of what falls on them.
  ///     rho / L,   L = sum of A (1 - r) / 4,   rho = 1 - L / (sum of A / 4)
  /// Source: the balance of powers of DiffuseField for one cell; that a street is evenly filled is an
  /// assumption. @throws DomainError unless all three sizes are > 0
  double flux_per_watt() const;
};

/// How a front takes part in the streets round a house, by the way it faces: the product of two fronts' is
/// what share of a street they have in common, ((1 + cos) / 2)^2 of the angle between them. 1 for one front,
/// a quarter round a corner, nothing for front and back (assumption).
using FrontShares = Eigen::Matrix<double, 5, 1>;
FrontShares front_shares(Point2 outward);  ///< @param outward  of length 1

}  // namespace linkmargin
