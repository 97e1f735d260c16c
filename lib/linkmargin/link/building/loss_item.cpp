#include "linkmargin/link/building/loss_item.hpp"

#include "linkmargin/base/units.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {

LossItem loss_item(const Barrier& barrier, double incidence_cos) {
  LossItem item{.cause = barrier.cause,
                .part = barrier.name,
                .material = barrier.material,
                .loss_db = barrier.transmission.loss_db(incidence_cos),
                .sigma_db = barrier.transmission.sigma_db(),
                .incidence_deg = 0};
  item.table_row = barrier.table_row;
  item.shift_db = barrier.transmission.shift_db();
  item.power_fraction = barrier.transmission.through_share(item.loss_db);
  if (barrier.transmission.depends_on_angle()) {
    item.incidence_deg = std::acos(std::min(incidence_cos, 1.0)) * 180 / kPi;
  }
  return item;
}

LossItem change_item(LossCause cause, double loss_db, PartName part) {
  return {.cause = cause,
          .part = std::move(part),
          .material = {},
          .loss_db = loss_db,
          .sigma_db = 0,
          .incidence_deg = 0};
}

}  // namespace linkmargin
