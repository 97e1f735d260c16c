#pragma once

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"

#include <string>
#include <vector>

namespace linkmargin {

struct LossItem {
  LossCause cause = LossCause::distance;
  std::string name;
  std::string material;  ///< empty for the distance
  double loss_db = 0;
  double sigma_db = 0;
  double incidence_deg = 0;  ///< from the normal; 0 where it plays no part
};

/// Where the path loss of one link comes from. Items stand in the order of the path from `from`, distance
/// first.
struct LossBreakdown {
  double distance_m = 0;
  std::vector<LossItem> items;
  double path_loss_db = 0;  ///< the sum of the items, in order
  double sigma_db = 0;      ///< root of the sum of the items' squares: spread of the local mean (shadowing)
  std::vector<std::string> cautions;
};

/// The path loss between two points by the scene's model.
/// Swapping the points changes neither path_loss_db nor any item, bit for bit.
LossBreakdown path_loss(const Scene& scene, Point3 a, Point3 b);

}  // namespace linkmargin
