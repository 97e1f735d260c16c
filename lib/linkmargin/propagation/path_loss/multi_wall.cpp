#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include <cmath>

namespace linkmargin {

double floor_term_db(int floors, double floor_loss_db, double b) {
  require_in(kFloors, floors);
  require_in(kFloorLossDb, floor_loss_db);
  require_in(kFloorBend, b);
  const double k = floors;
  return floors == 0 ? 0.0 : std::pow(k, (k + 2) / (k + 1) - b) * floor_loss_db;
}

}  // namespace linkmargin
