#pragma once

#include "linkmargin/link/scene.hpp"

#include <string>

namespace linkmargin {

/// One part of a path loss.
struct LossItem {
  LossCause cause = LossCause::distance;
  std::string name;
  std::string material;  ///< empty for the distance and for bends
  double loss_db = 0;
  double sigma_db = 0;
  double incidence_deg = 0;  ///< from the normal; 0 where it plays no part
};

/// What passing an element costs by itself.
LossItem loss_item(const Element& element, double incidence_cos);

}  // namespace linkmargin
