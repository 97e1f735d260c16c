#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/distance_law.hpp"

#include <optional>
#include <string>

namespace linkmargin {

/// One part of a path loss.
struct LossItem {
  LossCause cause = LossCause::distance;
  PartName part{};       ///< what stands there, or whose edge or bend it is; of a distance: by way of what
  std::string material;  ///< empty for the distance and for bends
  double loss_db = 0;
  double sigma_db = 0;
  double incidence_deg = 0;  ///< from the normal; 0 where it plays no part
  std::string table_row{};   ///< of the table of materials; empty for the distance and for bends
  double shift_db = 0;       ///< what was learned from readings of that row, in loss_db already
  /// Of the power that arrives in all, what came by way of this item: d(path loss) / d(its loss), and where
  /// the item is of a row of the table, d(path loss) / d(that row's shift). The powers of all else are held.
  double power_fraction = 1;
  std::optional<Point3> at{};        ///< where it is met; none for what belongs to no one place
  std::optional<DistanceLaw> law{};  ///< of a distance
};

/// What passing a barrier costs by itself.
LossItem loss_item(const Barrier& barrier, double incidence_cos);

/// What diffraction or other ways change, either sign.
/// @param part  what it belongs to, if to any one
LossItem change_item(LossCause cause, double loss_db, PartName part = {});

/// Whether something that stands in the way is the cause: wall, opening, floor or obstacle.
constexpr bool stands_in_the_way(LossCause cause) {
  return cause == LossCause::wall || cause == LossCause::opening || cause == LossCause::floor ||
         cause == LossCause::obstacle;
}

/// Whether it is a matter of the distance alone, whatever stands there.
constexpr bool is_of_distance(LossCause cause) {
  return cause == LossCause::distance || cause == LossCause::ground;
}

/// What an edge changes by less than this is not worth an item of its own.
inline constexpr double kLeastBendDb = 0.05;  ///< doubled, halved: 0.09, 0.04 dB at most

}  // namespace linkmargin
