#pragma once

#include "linkmargin/link/building/loss_item.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/mechanism/link_endpoint.hpp"

#include <optional>
#include <vector>

namespace linkmargin {

/// Where the path loss of one link comes from: the strongest way there, cause by cause, and what the other
/// ways add.
struct LossBreakdown {
  double distance_m = 0;  ///< straight
  /// Distance first, then the ground reflection where that counts, then what other ways add (cause other_ways
  /// or reverberation, a loss below 0); after these `leading_terms` items, what the way passes, in order from
  /// the lexicographically first end.
  std::vector<LossItem> items;
  std::size_t leading_terms = 1;
  /// Where the way bends whose items these are, in the order of the items; none for the straight line.
  std::vector<Point3> turns;
  double path_loss_db = 0;  ///< the sum of the items, in order
  double sigma_db = 0;      ///< root of the sum of the items' squares: spread of the local mean (shadowing)
  /// Nothing stands in the straight line, and no more power comes by echoes than along it: the line stands
  /// out from all else.
  bool line_of_sight = false;
  /// What echoes bring over all that comes otherwise, mean powers; absent where the model says nothing
  /// of them: between two ends out of doors or in two houses, or as it is set.
  std::optional<double> reverberant_ratio;
  std::vector<Warning> warnings;
};

/// The path loss between two points by the scene's model.
/// Swapping the points changes neither path_loss_db nor any item, bit for bit.
LossBreakdown path_loss(const Scene& scene, Point3 a, Point3 b);

/// The same for one of many links from one end; much quicker where ways round are counted. Items in the same
/// order. Where two ways cost the same to rounding, the other of them may be taken than by the form above.
LossBreakdown path_loss(const LinkEndpoint& from, Point3 to);

}  // namespace linkmargin
