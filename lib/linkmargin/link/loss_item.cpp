#include "linkmargin/link/loss_item.hpp"

#include "linkmargin/base/units.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {

LossItem loss_item(const Element& element, double incidence_cos) {
  LossItem item{.cause = element.cause,
                .name = element.name,
                .material = element.material,
                .loss_db = element.transmission.loss_db(incidence_cos),
                .sigma_db = element.transmission.sigma_db(),
                .incidence_deg = 0};
  item.table_row = element.table_row;
  item.shift_db = element.transmission.shift_db();
  item.share = element.transmission.through_share(item.loss_db);
  if (element.transmission.depends_on_angle()) {
    item.incidence_deg = std::acos(std::min(incidence_cos, 1.0)) * 180 / kPi;
  }
  return item;
}

LossItem bend_item(std::string name, double loss_db) {
  return {.cause = LossCause::route,
          .name = std::move(name),
          .material = {},
          .loss_db = loss_db,
          .sigma_db = 0,
          .incidence_deg = 0};
}

}  // namespace linkmargin
