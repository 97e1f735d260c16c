#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>

namespace linkmargin {

double floor_term_db(int floors, double floor_loss_db, double b) {
  require_in(kFloors, floors);
  require_in(kElementLossDb, floor_loss_db);
  require_in(kFloorBend, b);
  const double k = floors;
  return floors == 0 ? 0.0 : std::pow(k, (k + 2) / (k + 1) - b) * floor_loss_db;
}

double multi_wall_loss_db(double distance_m, double frequency_hz, double constant_loss_db,
                          std::span<const double> wall_losses_db, int floors, double floor_loss_db,
                          double b) {
  require_in(kConstantLossDb, constant_loss_db);
  double loss_db = free_space_loss_db(distance_m, frequency_hz) + constant_loss_db;
  for (const double wall_db : wall_losses_db) {
    require_in(kElementLossDb, wall_db);
    loss_db += wall_db;
  }
  return loss_db + floor_term_db(floors, floor_loss_db, b);
}

}  // namespace linkmargin
