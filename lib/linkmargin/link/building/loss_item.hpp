#pragma once

#include "linkmargin/link/building/building.hpp"

#include <optional>
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
  std::string table_row{};   ///< of the table of materials; empty for the distance and for bends
  double shift_db = 0;       ///< what readings taught of that row, in loss_db already
  /// Of the power that arrives in all, what came by way of this item: d(path loss) / d(its loss), and where
  /// the item is of a row of the table, d(path loss) / d(that row's shift). The powers of all else are held.
  double share = 1;
  std::optional<Point3> at{};  ///< where it is met; none for what belongs to no one place
};

/// What passing an barrier costs by itself.
LossItem loss_item(const Barrier& barrier, double incidence_cos);

/// What an edge, a corner or a way round changes, either sign.
LossItem bend_item(std::string name, double loss_db);

/// What an edge changes by less than this is not worth an item of its own.
inline constexpr double kLeastBendDb = 0.05;

inline constexpr const char* kCornersName = "corners beside the line";

}  // namespace linkmargin
