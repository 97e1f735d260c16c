#include "linkmargin/propagation/receiver/radiated_power.hpp"

namespace linkmargin {

double eirp_from_erp_dbm(double erp_dbm) {
  require_in(kRadiatedPowerDbm, erp_dbm);
  return erp_dbm + kEirpOverErpDb;
}

}  // namespace linkmargin
