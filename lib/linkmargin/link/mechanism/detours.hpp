#pragma once

#include "linkmargin/link/building/loss_item.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/mechanism/link_endpoint.hpp"

#include <vector>

namespace linkmargin {

/// One way round: through apertures that the straight line does not meet.
struct Detour {
  std::vector<LossItem>
      items;  ///< from the path's first end: distance along the bend, then legs, leaves and bends
  std::vector<Point3> turns{};  ///< where it bends, in the same order
  double loss_db = 0;           ///< the sum of the items
};

/// The best ways round beside a straight path, each through apertures that no better one uses, best first. A
/// way whose apertures all belong to walls that the straight line meets is left out: shading() has counted
/// it.
/// @param from       one of the path's ends
/// @param path       from trace()
/// @param direct_db  loss of the straight path; ways more than kNegligibleDb worse than it or a better way
/// are left out
std::vector<Detour> find_detours(const LinkEndpoint& from, const Path& path, double direct_db);

/// How many ways round are added at most. Each further one is weaker; three with the straight path are four.
inline constexpr std::size_t kMostRoutes = 3;  ///< assumption; doubled, halved: 0, 3.6 dB at most

/// A way this much weaker than another adds 0.4 dB at most.
inline constexpr double kNegligibleDb = 10;  ///< doubled, halved: 1.7, 1.1 dB at most, 0.1, 0.2 rms

}  // namespace linkmargin
