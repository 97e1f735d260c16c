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

/// What an edge, a corner or a way round changes, either sign.
LossItem bend_item(std::string name, double loss_db);

/// What an edge changes by less than this is not worth an item of its own.
inline constexpr double kLeastBendDb = 0.05;

inline constexpr const char* kCornersName = "corners beside the line";

}  // namespace linkmargin
