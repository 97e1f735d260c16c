#include "linkmargin/propagation/receiver/radiated_power.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>

namespace linkmargin {

double dbm_from_mw(double power_mw) {
  require_in(kPowerMw, power_mw);
  return 10 * std::log10(power_mw);
}

double eirp_from_erp_dbm(double erp_dbm) {
  require_in(kRadiatedPowerDbm, erp_dbm);
  return erp_dbm + kEirpOverErpDb;
}

double erp_from_eirp_dbm(double eirp_dbm) {
  require_in(kRadiatedPowerDbm, eirp_dbm);
  return eirp_dbm - kEirpOverErpDb;
}

double eirp_from_field_strength_dbm(double field_v_per_m, double distance_m) {
  require_in(kFieldStrength, field_v_per_m);
  require_in(kDistanceM, distance_m);
  return 10 * std::log10(field_v_per_m * field_v_per_m * distance_m * distance_m / 30 * 1000);
}

}  // namespace linkmargin
