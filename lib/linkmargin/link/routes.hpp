#pragma once

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/vantage.hpp"

#include <vector>

namespace linkmargin {

/// One way round: through gaps that the straight line does not meet.
struct Route {
  std::vector<LossItem>
      items;           ///< from the path's first end: distance along the bend, then legs, leaves and bends
  std::vector<Point3> turns{};  ///< where it bends, in the same order
  double loss_db = 0;           ///< the sum of the items
};

/// Whether the site's model adds ways round: `walls` with routes on. The other models' figures hold them
/// already.
bool counts_routes(const Environment& radio);

/// The best ways round beside a straight path, each through gaps that no better one uses, best first. A way
/// whose gaps all belong to walls that the straight line meets is left out: shading() has counted it.
/// @param from       one of the path's ends
/// @param path       from trace()
/// @param direct_db  loss of the straight path; ways more than kNegligibleDb worse than it or a better way
/// are left out
std::vector<Route> routes(const Vantage& from, const Path& path, double direct_db);

/// How many ways round are added at most. Each further one is weaker; three with the straight path are four.
inline constexpr std::size_t kMostRoutes = 3;

/// A way this much weaker than another adds 0.4 dB at most.
inline constexpr double kNegligibleDb = 10;

}  // namespace linkmargin
